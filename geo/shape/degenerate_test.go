package shape

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// awkwardCase is a case of scripts/oracle_degenerate.py, with the result of GEOS 3.11.1 or of an
// exact sum.
type awkwardCase struct {
	Family               string
	Discs                [][3]float64
	Lines                []orb.LineString
	Radius               []geo.Meters
	Rings                []orb.Ring
	Gap                  float64
	Area, Closing, Grown float64
	// A closing is between these. They are equal unless a hair decides whether a hole or a gap is
	// closed.
	Least, Most float64
}

// TestDegenerate runs a sample of every family; with DRIFTREACH_LONG=1 it runs 2 400 cases made by
// the script.
func TestDegenerate(t *testing.T) {
	file, err := os.Open(filepath.Join("..", "..", "testdata", "shape", "degenerate.jsonl"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	tryDegenerate(t, file)
	if os.Getenv("DRIFTREACH_LONG") == "" {
		return
	}
	program := filepath.Join("..", "..", "scripts", "oracle_degenerate.py")
	if _, err := os.Stat(program); err != nil {
		t.Fatal(err) // ours: a lost one must not pass as one that cannot be run
	}
	script := exec.Command(program, "300", os.Getenv("RAPID_SEED"))
	script.Stderr = os.Stderr
	out, err := script.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := script.Start(); err != nil {
		t.Skipf("the reference program is not there: %v", err)
	}
	tryDegenerate(t, out)
	if err := script.Wait(); err != nil {
		t.Fatal(err)
	}
}

func tryDegenerate(t *testing.T, r io.Reader) {
	tried := make(map[string]int)
	lines := bufio.NewScanner(r)
	lines.Buffer(nil, 1<<24)
	for lines.Scan() {
		var c awkwardCase
		if err := json.Unmarshal(lines.Bytes(), &c); err != nil {
			t.Fatal(err)
		}
		tried[c.Family]++
		if trouble := c.trouble(); trouble != "" {
			t.Errorf("%s: %s\n%s", c.Family, trouble, lines.Bytes())
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}
	if len(tried) < 10 {
		t.Errorf("only %d families", len(tried))
	}
	t.Log(tried)
}

// trouble says what is wrong with our results.
func (c awkwardCase) trouble() string {
	discs := make([]Disc, len(c.Discs))
	for i, d := range c.Discs {
		discs[i] = Disc{orb.Point{d[0], d[1]}, geo.Meters(d[2])}
	}
	var drawn orb.MultiPolygon
	for _, r := range c.Rings {
		drawn = append(drawn, orb.Polygon{r})
	}
	made := map[string]orb.MultiPolygon{}
	areas := [][3]float64{} // ours, want, allowed
	switch {
	case c.Lines != nil:
		made["BufferLines"] = BufferLines(c.Lines, c.Radius, 256, 1)
		made["DrawLines"] = DrawLines(c.Lines, c.Radius, 0.02, 1)
		made["BufferLines, few chords"] = BufferLines(c.Lines, c.Radius, 8, 1)
		areas = append(areas, [3]float64{float64(Area(made["BufferLines"])), c.Area, 1e-6 * c.Area},
			[3]float64{float64(Area(made["DrawLines"])), c.Area, 1e-5 * c.Area}) // GEOS's chords are inside
	case len(discs) > 0 && c.Closing > 0:
		made["UnionDiscs"] = UnionDiscs(discs)
		drawn, exact := DrawDiscs(discs, 0.02)
		made["DrawDiscs"] = drawn
		closed, sum := float64(CloseDiscs(discs, geo.Meters(c.Gap))), 0.0
		for _, d := range discs {
			sum += float64(d.Area())
		}
		areas = append(areas, [3]float64{float64(exact), c.Area, 1e-7 * sum}, [3]float64{float64(UnionDiscsArea(discs)), c.Area, 1e-7 * sum},
			[3]float64{float64(Area(made["UnionDiscs"])), c.Area, 1e-7 * sum}, [3]float64{float64(Area(drawn)), c.Area, 1e-6 * sum},
			[3]float64{closed, min(max(closed, c.Least), c.Most), 2e-5 * c.Grown})
	case c.Gap > 0:
		valid, _ := MakeValid(drawn)
		valid = Union([]orb.MultiPolygon{valid}, 1)
		made["Closing"] = Closing(valid, geo.Meters(c.Gap))
		got := float64(CloseBeside(discs, valid, geo.Meters(c.Gap)))
		areas = append(areas, [3]float64{got, min(max(got, c.Least), c.Most), 2e-5 * c.Grown})
	default:
		made["MakeValid"], _ = MakeValid(drawn)
		box := drawn.Bound()
		areas = append(areas, [3]float64{float64(Area(made["MakeValid"])), c.Area, 1e-9 * (box.Right() - box.Left()) * (box.Top() - box.Bottom())})
	}
	for name, mp := range made {
		if err := Valid(mp); err != nil {
			return fmt.Sprintf("%s is not valid: %v", name, err)
		}
	}
	for k, a := range areas {
		if !(math.Abs(a[0]-a[1]) <= a[2]) {
			return fmt.Sprintf("area %d is %.9f, want %.9f (allowed %.2g)", k, a[0], a[1], a[2])
		}
	}
	return ""
}
