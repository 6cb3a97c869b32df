package lineage

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// base is where the constructed plants grow.
var base = earth.NewFrame(orb.Point{-40, -33})

// plant is one record in the metres of base, with a patch of so many square
// metres.
type plant struct{ x, y, area float64 }

// records makes detected records of plants, numbered in their order.
func records(plants ...plant) []survey.Record {
	out := make([]survey.Record, len(plants))
	for i, p := range plants {
		out[i] = survey.Record{
			ID: fmt.Sprintf("r%05d", i), Detected: true, PatchArea: geo.SquareMeters(p.area), Cover: 50,
			Position: base.Inverse(orb.Point{p.x, p.y}),
		}
	}
	return out
}

// blank makes records that say not detected.
func blank(places ...orb.Point) []survey.Record {
	out := make([]survey.Record, len(places))
	for i, p := range places {
		out[i] = survey.Record{ID: fmt.Sprintf("z%05d", i), Position: base.Inverse(p)}
	}
	return out
}

// patch is a block of plants 10 m apart, each with 120 m2, from its south-west
// corner: rows up, columns to the right.
func patch(x, y float64, columns, rows int) []plant {
	var out []plant
	for i := range columns {
		for j := range rows {
			out = append(out, plant{x + 10*float64(i), y + 10*float64(j), 120})
		}
	}
	return out
}

// chain is a programme that goes on from quarter to quarter as a batch does.
type chain struct {
	t       testing.TB
	quarter survey.Quarter
	known   []Known
	s       Settings
	given   map[string]bool // every identity ever given out
	workers int
}

func newChain(t testing.TB) *chain {
	return &chain{t: t, quarter: survey.Quarter{Year: 2026, Number: 1}, s: DefaultSettings(), given: map[string]bool{}, workers: 2}
}

// step maps one quarter's records and goes on from what was known.
func (c *chain) step(e Evidence) (Lineage, []stand.Stand) {
	c.t.Helper()
	slices.SortFunc(e.Records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
	stands, _, err := stand.Map(e.Records, c.quarter, stand.DefaultSettings(), c.workers)
	if err != nil {
		c.t.Fatal(err)
	}
	visits := Visits(c.known, e, c.s, c.workers)
	found := Trace(c.known, Now{c.quarter, stands, visits}, c.s, c.workers)
	c.keep(found, stands, visits)
	c.quarter = c.quarter.Next()
	return found, stands
}

// keep makes what the next quarter knows.
func (c *chain) keep(found Lineage, stands []stand.Stand, visits []Visit) {
	var next []Known
	for i := range stands {
		stands[i].ID = found.IDs[i]
		if found.Changes[i] == New && c.given[found.IDs[i]] {
			c.t.Fatalf("%s is given out again", found.IDs[i])
		}
		c.given[found.IDs[i]] = true
		next = append(next, Known{Stand: stands[i], Quarter: c.quarter})
	}
	for k, fate := range found.Fates {
		known := c.known[k]
		switch {
		case fate == "":
			continue
		case fate == NotDetected && !known.Absent:
			known.Absent, known.Since = true, c.quarter
		}
		next = append(next, known)
	}
	slices.SortFunc(next, func(a, b Known) int { return strings.Compare(a.ID, b.ID) })
	for i := 1; i < len(next); i++ {
		if next[i].ID == next[i-1].ID {
			c.t.Fatalf("%s is two stands", next[i].ID)
		}
	}
	c.known = next
}

// told returns ids and changes by mapped stand, then the fates of known ones, as
// text to compare.
func told(known []Known, l Lineage) string {
	var parts []string
	for i, id := range l.IDs {
		var from []string
		for _, link := range l.Links {
			if int(link.Stand) == i {
				from = append(from, known[link.Known].ID)
			}
		}
		parts = append(parts, strings.TrimSpace(id+" "+string(l.Changes[i])+" "+strings.Join(from, "+")))
	}
	for k, fate := range l.Fates {
		if fate != "" {
			parts = append(parts, known[k].ID+" "+string(fate))
		}
	}
	slices.Sort(parts)
	return strings.Join(parts, "; ")
}

// scatter moves plants as a receiver would: normal with the given deviation in x
// and in y.
func scatter(dice *rand.Rand, plants []plant, deviation float64) []plant {
	out := slices.Clone(plants)
	for i := range out {
		out[i].x += deviation * dice.NormFloat64()
		out[i].y += deviation * dice.NormFloat64()
	}
	return out
}
