package learn

import (
	"context"
	"math"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/earlier"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// aKilometreDown is the cell of the valley's first line, one kilometre below its source, where no creek
// is near.
func aKilometreDown(w *world) *stretch.GridCell {
	for i := range w.chain.Grid.Cells {
		c := &w.chain.Grid.Cells[i]
		if edge := &w.chain.Net.Net.Edges[c.Piece.Edge]; edge.Line == 0 && c.Piece.To >= 1000 {
			return c
		}
	}
	panic("the first line is shorter than a kilometre")
}

// onTheRiver is a batch on the valley with four stands of one record of 100 m2 each: on the river, at
// the same place again but gone, a hundred metres off, and a kilometre off.
func onTheRiver(w *world) *Batch {
	b := &Batch{Batch: &earlier.Batch{Quarter: survey.Quarter{Year: 2026, Number: 2}}, Rules: w.rules}
	day := survey.DayOf(time.Date(2026, 5, 5, 0, 0, 0, 0, time.UTC))
	at := stretch.PointAt(w.chain.Net, aKilometreDown(w).Middle)
	for i, east := range []float64{0, 0, 100, 1000} { // metres; about 90 km to a degree here
		p := orb.Point{at[0] + east/90_000, at[1]}
		b.Records = append(b.Records, survey.Record{ID: string(rune('a' + i)), Position: p, Detected: true, PatchArea: 100, Cover: 50, StemHeight: geo.Meters(math.NaN()), Begin: day, End: day})
		k := lineage.Known{Stand: stand.Build(b.Records, []int32{int32(i)}, w.rules.Stands), Absent: i == 1}
		k.ID = string(rune('a' + i))
		b.Known = append(b.Known, k)
	}
	return b
}

// TestFollowFindsWhereStandsTouch, by hand: a stand on the river touches the water there and releases
// fragments; one that is gone releases none and has no place, although its ground is the same; one
// beyond the zone does not either. What is afloat below is a mean amount: exposure by
// the length of the cell.
func TestFollowFindsWhereStandsTouch(t *testing.T) {
	w := newWorld(3, 1)
	b := onTheRiver(w)
	if err := w.chain.follow(context.Background(), b, 1); err != nil {
		t.Fatal(err)
	}
	middle := aKilometreDown(w).Middle
	for k, touches := range []bool{true, false, false, false} {
		at := b.placeOf(k)
		if (at.Edge >= 0) != touches || touches && (at.Edge != middle.Edge || math.Abs(float64(at.Offset-middle.Offset)) > 1) {
			t.Errorf("stand %s is at %+v, the middle of the cell at %+v", b.Known[k].ID, at, middle)
		}
	}
	if len(b.released.Sources) != 1 || b.released.Stands != 4 {
		t.Fatalf("released by %+v", b.released)
	}
	s := b.released.Sources[0]
	// 100 m2 of half cover are 50 m2 of canopy, each acre of 4046.8564224 m2 with one unit by default
	want := 50 / 4046.8564224 * w.rules.Drift.FragmentsPerAcre
	if s.Stand != 0 || math.Abs(float64(s.Amount)-float64(want)) > 1e-9 || s.Place.Edge != middle.Edge {
		t.Errorf("%+v, want an amount of %v", s, want)
	}
	exposure := b.drift.ExposureOn(w.chain.Net, w.chain.Grid.Pieces())
	below, above := 0, 0
	for i, c := range w.chain.Grid.Cells {
		if got := float64(b.afloat[i]) * float64(c.Length) / 1000; math.Abs(got-float64(exposure[i])) > 1e-12*(1+got) {
			t.Errorf("cell %d of %v m: %v afloat, exposure %v", i, c.Length, b.afloat[i], exposure[i])
		}
		switch {
		case float64(b.afloat[i]) > float64(want*(1+1e-9)):
			t.Errorf("cell %d: %v afloat, %v were released", i, b.afloat[i], want)
		case b.afloat[i] > 0:
			below++
		default:
			above++
		}
	}
	if below == 0 || above == 0 || b.lookedIn(0) != [2]bool{} {
		t.Errorf("fragments in %d cells, none in %d, looked at %v", below, above, b.lookedIn(0))
	}
	for id, want := range map[string]int{"a": 0, "d": 3, "": -1, "bb": -1, "z": -1} {
		if got := b.find(id); got != want {
			t.Errorf("stand %q is known stand %d, want %d", id, got, want)
		}
	}
}

// The length of all streams is that of their cells: a river of 32 km and eight creeks of 5 km by 1 km,
// 5.1 km each; by hand, to a hundredth, since the ellipsoid has other degrees than 90 and 111 km.
func TestKilometresOfTheChain(t *testing.T) {
	w := newWorld(3, 1)
	want := 32 + 8*math.Hypot(5, 1)
	if got := float64(w.chain.Km()); math.Abs(got-want) > 0.01*want {
		t.Errorf("%v km, want %v", got, want)
	}
	if got := quartersTo(survey.Quarter{Year: 2025, Number: 4}, survey.Quarter{Year: 2026, Number: 3}); got != 3 {
		t.Errorf("%d quarters", got)
	}
}
