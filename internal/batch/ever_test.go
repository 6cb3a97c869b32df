package batch

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/earlier"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// stageOfTruth is the record of one stand in a year: the number of plants of 80 m2 in one patch, and
// its status; none if it was looked for and not found.
type stageOfTruth struct {
	plants int
	status survey.Status
}

// TestEverMappedByStage: a chain of six years whose every stage is known, in plants:
// A stays; B is treated, dies and is gone; C is gone until it is released; D is gone,
// comes back and is treated; E, three patches, is seen to shrink to one.
func TestEverMappedByStage(t *testing.T) {
	live, treated, dead := survey.Untreated, survey.Treated, survey.StandingDead
	years := [][]stageOfTruth{
		{{1, live}, {2, live}, {3, live}, {4, live}, {3, live}},
		{{1, live}, {2, treated}, {}, {}, {1, live}},
		{{1, live}, {2, dead}, {}, {4, live}, {1, live}},
		{{1, live}, {}, {}, {4, treated}, {1, survey.Resprout}},
		{{1, live}, {}, {}, {4, treated}, {1, live}},
		{{1, live}, {}, {}, {4, treated}, {1, live}},
	}
	want := []string{
		"live 13/5, ever_mapped 13/5",
		"live 2/2, treated 2/1, no_longer_found 2/0, clear_1_year 7/2, ever_mapped 13/5",
		"live 2/2, lost_again 4/1, standing_dead 2/1, no_longer_found 2/0, clear_2_years 3/1, ever_mapped 13/5",
		"live 2/2, treated 4/1, no_longer_found 2/0, clear_1_year 2/1, clear_3_years 3/1, ever_mapped 13/5",
		"live 2/2, treated 4/1, no_longer_found 2/0, clear_2_years 2/1, clear_4_years 3/1, ever_mapped 13/5",
		"live 2/2, treated 4/1, no_longer_found 2/0, clear_3_years 2/1, released 3/1, ever_mapped 13/5",
	}
	dir, last := t.TempDir(), ""
	var all []string
	for k, truth := range years {
		q := survey.Quarter{Year: int16(2026 + k), Number: 1}
		in := observed.Quarter{Quarter: q, Centerlines: chainStreams}
		for s, one := range truth {
			record := func(name string, y float64, plants int) {
				in.Records.Listed = append(in.Records.Listed, survey.Record{
					ID: fmt.Sprintf("%c%s", 'a'+s, name), Position: chainFrame.Inverse(orb.Point{50, 200*float64(s) - 500 + y}), Detected: plants > 0,
					PatchArea: geo.SquareMeters(plants * plantArea), Status: one.status, Cover: 50, StemHeight: geo.Meters(math.NaN()),
				})
			}
			switch {
			case s == 4 && one.plants == 3:
				record("0", 0, 1)
				record("1", 20, 1)
				record("2", 40, 1)
			case s == 4: // looked at as far as the last of them
				record("0", 0, 1)
				record("z", 48, 0)
			default:
				record("", 0, one.plants)
			}
		}
		l := link{in: in, dir: filepath.Join(dir, q.String())}
		run := l.deliver(t, last, 1)
		last = l.dir
		if got := told(result.EverMapped(run)); got != want[k] {
			t.Errorf("%s: %s\nwant %s", q, got, want[k])
		}
		all = append(all, fmt.Sprintf("%s %s", q, want[k]))
	}
	// the last folder tells every quarter, and so does what reads it
	text, err := os.ReadFile(filepath.Join(last, mapfile.EverFile))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := earlier.ReadEver(text)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for len(rows) > 0 {
		n := 1
		for n < len(rows) && rows[n].Quarter == rows[0].Quarter {
			n++
		}
		sum, stands := int64(0), 0
		for _, r := range rows[:n-1] {
			sum, stands = sum+grain(r), stands+r.Stands
		}
		if last := rows[n-1]; last.Stage != result.EverAll || grain(last) != sum || last.Stands != stands {
			t.Errorf("%s: the stages are %d grains of %d stands, and all is %d of %d", last.Quarter, sum, stands, grain(last), last.Stands)
		}
		got = append(got, rows[0].Quarter+" "+told(rows[:n]))
		rows = rows[n:]
	}
	if strings.Join(got, "\n") != strings.Join(all, "\n") {
		t.Errorf("ever_mapped.csv tells\n%s", strings.Join(got, "\n"))
	}
}

// told lists the stages that are not empty, each as stage plants/stands.
func told(rows []result.EverRow) string {
	var parts []string
	for _, r := range rows {
		if plants := math.Round(r.Acres.Float() * 4046.8564224 / plantArea); plants > 0 || r.Stands > 0 {
			parts = append(parts, fmt.Sprintf("%s %.0f/%d", r.Stage, plants, r.Stands))
		}
	}
	return strings.Join(parts, ", ")
}

// grain is a row's acres as printed, in grains.
func grain(r result.EverRow) int64 { return int64(math.Round(r.Acres.Float() * 1e10)) }
