package lineage

import (
	"fmt"
	"math"
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

// plant is one record in the metres of base, with a patch of area square metres.
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

// blank makes records of "not detected".
func blank(places ...orb.Point) []survey.Record {
	out := make([]survey.Record, len(places))
	for i, p := range places {
		out[i] = survey.Record{ID: fmt.Sprintf("z%05d", i), Position: base.Inverse(p)}
	}
	return out
}

// searched makes a record of "not detected" that searched a circle around a place.
func searched(at orb.Point, radius float64) []survey.Record {
	out := blank(at)
	out[0].PatchArea = geo.SquareMeters(math.Pi * radius * radius)
	return out
}

// patch is a block of plants 10 m apart, each with 120 m2, from its south-west corner: rows north,
// columns east.
func patch(x, y float64, columns, rows int) []plant {
	var out []plant
	for i := range columns {
		for j := range rows {
			out = append(out, plant{x + 10*float64(i), y + 10*float64(j), 120})
		}
	}
	return out
}

// chain is a programme that continues from quarter to quarter as a batch does.
type chain struct {
	t       testing.TB
	quarter survey.Quarter
	before  Before
	looked  *Surveyed
	s       Settings
	given   map[string]bool // every identity ever used
	workers int

	// results of the last step
	known   []Known
	looks   []Look
	changes []Change // by group
}

func newChain(t testing.TB) *chain {
	return &chain{
		t: t, quarter: survey.Quarter{Year: 2026, Number: 1}, s: DefaultSettings(), given: map[string]bool{}, workers: 2, looked: NewSurveyed(nil),
	}
}

// quarterOf is one quarter's survey.
type quarterOf struct {
	Records []survey.Record
	Evidence
}

// step maps one quarter's records and continues the known stands. It returns the stands of that
// quarter, those of groups first.
func (c *chain) step(q quarterOf) (Lineage, []stand.Stand) {
	c.t.Helper()
	slices.SortFunc(q.Records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
	mapped, _, err := stand.Map(q.Records, c.quarter, stand.DefaultSettings(), c.workers)
	if err != nil {
		c.t.Fatal(err)
	}
	now := Now{Quarter: c.quarter, Stands: mapped, Records: q.Records}
	l := Trace(c.before, now, q.Evidence, c.s, c.workers)
	c.known, c.looks = c.before.Known, l.Looks
	stands := c.carry(&l, now)
	c.looked = NewSurveyed(Together([]orb.MultiPolygon{c.looked.Areas, SurveyedNow(now, q.Evidence, c.s, 1)}, 1))
	c.quarter = c.quarter.Next()
	return l, stands
}

// carry makes the stands that the next quarter knows.
func (c *chain) carry(l *Lineage, now Now) []stand.Stand {
	records := slices.Clone(now.Records)
	keep := func(k int32) (members []int32) {
		for _, left := range l.Looks[k].Left {
			r := c.before.Records[left.Record]
			if left.Patch != nil {
				r.Outline, r.PatchArea, r.Position = left.Patch, 0, left.At
			}
			members = append(members, int32(len(records)))
			records = append(records, r)
		}
		return members
	}
	var stands []stand.Stand
	var next []Known
	outcomes := make([]Outcome, len(l.Groups))
	for g, group := range l.Groups {
		var members []int32
		unknown := 0.0
		for _, i := range group {
			members = append(members, now.Stands[i].Members...)
			unknown += 1 - c.looked.Share(now.Stands[i].Footprint)
		}
		for _, k := range l.Carried[g] {
			members = append(members, keep(k)...)
		}
		st := stand.Build(records, members, stand.DefaultSettings())
		st.ID = l.IDs[g]
		outcomes[g] = Outcome{st.Infested, len(l.Carried[g]) > 0, 2*unknown > float64(len(group))}
		stands, next = append(stands, st), append(next, Known{Stand: st, Quarter: c.quarter})
	}
	c.changes = l.Judge(c.before.Known, outcomes, c.s)
	for g, change := range c.changes {
		if (change == New || change == FirstLookedAt) && c.given[l.IDs[g]] {
			c.t.Fatalf("%s is given out again", l.IDs[g])
		}
		c.given[l.IDs[g]] = true
	}
	for k, fate := range l.Fates {
		known := c.before.Known[k]
		switch {
		case fate == "":
			continue
		case fate == NotDetected && !known.Absent:
			known.Absent, known.Since, known.Members = true, c.quarter, nil
		case !known.Absent:
			id := known.ID
			known.Stand = stand.Build(records, keep(int32(k)), stand.DefaultSettings())
			known.ID = id
			stands = append(stands, known.Stand)
		}
		next = append(next, known)
	}
	slices.SortFunc(next, func(a, b Known) int { return strings.Compare(a.ID, b.ID) })
	for i := 1; i < len(next); i++ {
		if next[i].ID == next[i-1].ID {
			c.t.Fatalf("%s is two stands", next[i].ID)
		}
	}
	c.before = Before{next, records}
	return stands
}

// told returns the last step's ids and changes, then the fates of known stands, as
// text to compare.
func (c *chain) told(l Lineage) string {
	var parts []string
	for g, id := range l.IDs {
		var from []string
		for _, link := range l.Links {
			if int(link.Stand) == g {
				from = append(from, c.known[link.Known].ID)
			}
		}
		parts = append(parts, strings.TrimSpace(id+" "+string(c.changes[g])+" "+strings.Join(from, "+")))
	}
	for k, fate := range l.Fates {
		if fate != "" {
			parts = append(parts, c.known[k].ID+" "+string(fate))
		}
	}
	slices.Sort(parts)
	return strings.Join(parts, "; ")
}

// scatter moves plants by receiver errors: normal with the given deviation in x and in y.
func scatter(dice *rand.Rand, plants []plant, deviation float64) []plant {
	out := slices.Clone(plants)
	for i := range out {
		out[i].x += deviation * dice.NormFloat64()
		out[i].y += deviation * dice.NormFloat64()
	}
	return out
}
