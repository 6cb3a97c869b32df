package demo

import (
	"bytes"
	"encoding/csv"
	"math"
	"strconv"
	"testing"
	"time"

	"github.com/paulmach/orb"
)

// seenPoint is a survey point as read from the CSV, with its place in metres from the country's
// middle, computed by the test itself.
type seenPoint struct {
	row
	at orb.Point
}

func seenPoints(t *testing.T, text []byte) []seenPoint {
	t.Helper()
	table, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []seenPoint
	for _, cells := range table[1:] {
		p := seenPoint{row: row{}}
		for i, name := range table[0] {
			p.row[name] = cells[i]
		}
		lon := number(t, p.row["decimalLongitude"])
		lat := number(t, p.row["decimalLatitude"])
		// A degree at 38.5 S is 110 997 m of meridian and 87 241 m of parallel on
		// WGS 84 (radii of curvature, Snyder 1987, equations 4-18 and 4-20).
		p.at = orb.Point{(lon - middle[0]) * 87241, (lat - middle[1]) * 110997}
		out = append(out, p)
	}
	return out
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSurveyIsOfBelievableSize(t *testing.T) {
	for _, seed := range seeds {
		for _, q := range made(seed).Quarters {
			points := seenPoints(t, q.Points)
			if n := len(points); n < 350 || n > 750 {
				t.Errorf("seed %d %s: %d points", seed, q.Quarter, n)
			}
			acres := 0.0
			for _, p := range points {
				if p.row["occurrenceStatus"] == "detected" {
					acres += acresOf(t, p)
				}
			}
			// Tens of acres: what a small crew can treat in some years.
			if acres < 12 || acres > 60 {
				t.Errorf("seed %d %s: %.1f acres of patches", seed, q.Quarter, acres)
			}
		}
	}
}

// acresOf returns a patch's acres by the rule of the survey columns: area, else
// sides, else diameter, else 0.1 acre.
func acresOf(t *testing.T, p seenPoint) float64 {
	switch r := p.row; {
	case r["patch_area_m2"] != "":
		return number(t, r["patch_area_m2"]) / 4046.8564224
	case r["patch_length_m"] != "":
		return number(t, r["patch_length_m"]) * number(t, r["patch_width_m"]) / 4046.8564224
	case r["patch_diameter_m"] != "":
		d := number(t, r["patch_diameter_m"])
		return math.Pi * d * d / 4 / 4046.8564224
	}
	return 0.1
}

func TestPointsLieInTheCountry(t *testing.T) {
	for _, seed := range seeds {
		s := made(seed)
		land := districts(t, s)
		for _, q := range s.Quarters {
			for _, p := range seenPoints(t, q.Points) {
				place := orb.Point{number(t, p.row["decimalLongitude"]), number(t, p.row["decimalLatitude"])}
				// Ten metres of sand at the mouth may lie outside the drawn coast.
				if !within(land, place) && span(p.at, mouth) > 400 {
					t.Errorf("seed %d %s: %s lies at sea", seed, q.Quarter, p.row["occurrenceID"])
				}
			}
		}
	}
}

func TestDatesLieInTheirQuarter(t *testing.T) {
	missing := 0
	for i, q := range made(1).Quarters {
		first, next := calendar[i].first, calendar[i].first.AddDate(0, 3, 0)
		for _, p := range seenPoints(t, q.Points) {
			if p.row["eventDate"] == "" {
				missing++
				continue
			}
			date, err := time.Parse("2006-01-02", p.row["eventDate"])
			if err != nil || date.Before(first) || !date.Before(next) {
				t.Errorf("%s: date %q: %v", q.Quarter, p.row["eventDate"], err)
			}
		}
	}
	if missing != 2 {
		t.Errorf("%d dates missing, want the blemish of the first and the fifth quarter", missing)
	}
}

func TestEveryStatusOccurs(t *testing.T) {
	for _, seed := range seeds {
		count := map[string]int{}
		ids := map[string]int{}
		for _, q := range made(seed).Quarters {
			for _, p := range seenPoints(t, q.Points) {
				count[p.row["occurrenceStatus"]]++
				count[p.row["management_status"]]++
				ids[p.row["occurrenceID"]]++
			}
		}
		for _, word := range []string{"notDetected", "untreated", "treated", "standing_dead", "resprout"} {
			if count[word] < 5 {
				t.Errorf("seed %d: %d records %s", seed, count[word], word)
			}
		}
		twice := 0
		for _, n := range ids {
			if n > 1 {
				twice++
			}
		}
		if twice != 2 {
			t.Errorf("seed %d: %d ids used twice, want the blemish of the second and the sixth quarter", seed, twice)
		}
	}
}

// A patch seen again is in the same place: in each direction the difference of two positions is
// normal with 2.8 sqrt 2 = 4.0 m, so the median distance is 1.177 x 4.0 = 4.7 m (Rayleigh).
func TestQuartersTellOfTheSameStands(t *testing.T) {
	for _, seed := range seeds {
		q := made(seed).Quarters
		for i := 1; i < len(q); i++ {
			before, now := seenPoints(t, q[i-1].Points), seenPoints(t, q[i].Points)
			again := 0
			for _, p := range now {
				for _, old := range before {
					if span(p.at, old.at) < 12 {
						again++
						break
					}
				}
			}
			if share := float64(again) / float64(len(now)); share < 0.8 || share == 1 {
				t.Errorf("seed %d: %.2f of %s's points stand where %s's do", seed, share, q[i].Quarter, q[i-1].Quarter)
			}
		}
	}
}

func TestCoverClasses(t *testing.T) {
	// Class limits of Daubenmire (1959): 0-5, 5-25, 25-50, 50-75, 75-95, 95-100.
	for cover, want := range map[float64]string{1: "1", 5: "1", 6: "2", 25: "2", 40: "3", 60: "4", 80: "5", 95.5: "6"} {
		if got := daubenmire(cover); got != want {
			t.Errorf("%g percent is class %s, want %s", cover, got, want)
		}
	}
}

func TestOneMeasureAPatch(t *testing.T) {
	for _, p := range seenPoints(t, made(1).Quarters[0].Points) {
		given := 0
		for _, name := range []string{"patch_area_m2", "patch_length_m", "patch_diameter_m"} {
			if p.row[name] != "" {
				given++
			}
		}
		if given > 1 || (p.row["patch_length_m"] == "") != (p.row["patch_width_m"] == "") {
			t.Errorf("%s: measured %d ways", p.row["occurrenceID"], given)
		}
		if p.row["occurrenceStatus"] == "notDetected" && given > 0 {
			t.Errorf("%s: not there, yet measured", p.row["occurrenceID"])
		}
	}
}
