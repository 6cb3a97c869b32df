package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"
	"github.com/paulmach/orb/planar"
)

// pageData is the data in map.html about stands and about the work in order.
type pageData struct {
	Origin [2]float64
	Steps  float64
	Signs  []struct{ ID string }
	Labels []string
	Stands []struct {
		ID     string        `json:"id"`
		Order  int           `json:"o"`
		Sign   int           `json:"k"`
		Rings  [][][]float64 `json:"g"`
		Values []string      `json:"v"`
		Late   bool          `json:"late"`
		Zone   bool          `json:"zone"`
	} `json:"stands"`
	Reaches []struct{}            `json:"reaches"`
	Points  []struct{}            `json:"points"`
	Absent  []struct{}            `json:"absent"`
	Earlier []struct{ ID string } `json:"earlier"`
	Turn    []struct {
		Stand int    `json:"s"`
		Acres string `json:"a"` // up to and including this work
	} `json:"turn"`
}

func readMapPage(t *testing.T, file string) pageData {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`(?s)id="data">(.*?)</script>`).FindSubmatch(text)
	if m == nil {
		t.Fatalf("%s holds no data", file)
	}
	var d pageData
	if err := json.Unmarshal(m[1], &d); err != nil {
		t.Fatal(err)
	}
	return d
}

// map.html has the same data as the layers and tables: the same stands with outlines, order, zone
// and visits, and the work of the tables.
func TestBrowserMapHasTheLayersFigures(t *testing.T) {
	batch := filepath.Join(demoToRead(t), "2026Q3")
	d := readMapPage(t, filepath.Join(batch, "map.html"))
	layer := func(name string) *geojson.FeatureCollection {
		text, err := os.ReadFile(filepath.Join(batch, name))
		if err != nil {
			t.Fatal(err)
		}
		all, err := geojson.UnmarshalFeatureCollection(text)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	stands := layer("stands.geojson").Features
	if len(d.Stands) != len(stands) || len(d.Points) != len(layer("points.geojson").Features) ||
		len(d.Reaches) != len(layer("reaches.geojson").Features) || len(d.Absent) != len(layer("absent.geojson").Features) {
		t.Fatalf("%d stands, %d points, %d reaches, %d absent: not those of the layers", len(d.Stands), len(d.Points), len(d.Reaches), len(d.Absent))
	}
	overdue := map[string]bool{}
	for _, row := range table(t, filepath.Join(batch, "followup.csv")) {
		overdue[row["stand_id"]] = row["overdue"] == "true"
	}
	infested := slices.Index(d.Labels, "Infested area")
	for i, s := range d.Stands {
		f := stands[i]
		if f.Properties["stand_id"] != s.ID || f.Properties["aquatic_zone"] != s.Zone || overdue[s.ID] != s.Late || s.Order != 0 && f.Properties["treat_order"] != float64(s.Order) {
			t.Errorf("%s: %+v is not %v", s.ID, s, f.Properties)
		}
		if got, want := s.Values[infested], f.Properties.MustFloat64("infested_acres"); !shownAs(got, want) {
			t.Errorf("%s: %s for %v acres", s.ID, got, want)
		}
		area, bound := 0.0, f.Geometry.Bound()
		for _, rings := range s.Rings {
			var p orb.Polygon
			for _, steps := range rings {
				p = append(p, degreesOf(d, steps))
			}
			area += planar.Area(p)
			if b := p.Bound(); b.Left() < bound.Left()-2e-5 || b.Right() > bound.Right()+2e-5 || b.Bottom() < bound.Bottom()-2e-5 || b.Top() > bound.Top()+2e-5 {
				t.Errorf("%s: drawn beyond its outline: %v, %v", s.ID, b, bound)
			}
		}
		// thinning by half a metre around the outline
		edge := 0.5 / 111320 * (bound.Right() - bound.Left() + bound.Top() - bound.Bottom()) * 6
		if want := planar.Area(f.Geometry); math.Abs(area-want) > edge+1e-10 {
			t.Errorf("%s: an outline of %g square degrees for %g", s.ID, area, want)
		}
	}
	// the slider's acres are the running sum of the plan or, without a plan, of the treatment order
	file, column := "plan.csv", "acres"
	if _, err := os.Stat(filepath.Join(batch, file)); err != nil {
		file, column = "order.csv", "acres_to_treat"
	}
	sum, rows := 0.0, table(t, filepath.Join(batch, file))
	if len(rows) != len(d.Turn) || len(rows) == 0 {
		t.Fatalf("%d pieces of work, %s has %d", len(d.Turn), file, len(rows))
	}
	for i, row := range rows {
		sum += number(t, row[column])
		apart := 0.5e-4 * float64(i+1) // the column is rounded to four decimals
		if got := d.Turn[i].Acres + " acres"; !shownAs(got, sum) && !shownAs(got, sum-apart) && !shownAs(got, sum+apart) {
			t.Errorf("the first %d pieces of work: %s, %s has %v", i+1, got, file, sum)
		}
	}
}

// shownAs says whether a text is a number of acres rounded to its last decimal: two decimals, more
// below a tenth of an acre.
func shownAs(text string, acres float64) bool {
	m := regexp.MustCompile(`^([\d]+)(?:\.(\d+))? acres$`).FindStringSubmatch(text)
	if m == nil {
		return false
	}
	x, err := strconv.ParseFloat(m[1]+"."+m[2], 64)
	places := len(m[2])
	return err == nil && math.Abs(x-acres) <= 0.5*math.Pow10(-places)+1e-12 && (places == 2 || acres < 0.1 && places > 2 || acres == 0)
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// degreesOf adds up the steps of a ring.
func degreesOf(d pageData, steps []float64) orb.Ring {
	var out orb.Ring
	x, y := 0.0, 0.0
	for i := 0; i < len(steps); i += 2 {
		x, y = x+steps[i], y+steps[i+1]
		out = append(out, orb.Point{d.Origin[0] + x/d.Steps, d.Origin[1] + y/d.Steps})
	}
	return out
}
