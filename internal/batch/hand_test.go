package batch

import (
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/allocate"
	"driftreach/internal/earlier"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/margin"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
	"driftreach/internal/work"
)

// TestAtLeast: a stand's acres by unit are raised to those of its part that is left, from the unit that
// has most beyond its own; what they add up to stays; by hand.
func TestAtLeast(t *testing.T) {
	type acres map[int32]int64 // by unit
	of := func(a acres) (all []allocate.Share) {
		for _, u := range slices.Sorted(maps.Keys(a)) {
			all = append(all, allocate.Share{Unit: u, Infested: a[u]})
		}
		return all
	}
	for name, c := range map[string]struct{ shares, left, want acres }{
		"enough":                   {acres{0: 10, 1: 5}, acres{0: 9, 1: 5}, acres{0: 10, 1: 5}},
		"from the other":           {acres{0: 10, 1: 5}, acres{1: 7}, acres{0: 8, 1: 7}},
		"from what is not left":    {acres{0: 10, 1: 5, 2: 9}, acres{0: 9, 1: 7}, acres{0: 10, 1: 7, 2: 7}},
		"to a unit it is not in":   {acres{0: 10}, acres{1: 4}, acres{0: 6, 1: 4}},
		"outside of all units":     {acres{-1: 6, 0: 4}, acres{0: 5}, acres{-1: 5, 0: 5}},
		"from two, the most first": {acres{0: 3, 1: 4, 2: 0}, acres{2: 5}, acres{0: 2, 1: 0, 2: 5}},
		"not enough":               {acres{0: 1, 1: 2}, acres{0: 1, 1: 5}, acres{0: 1, 1: 2}},
		"all there is":             {acres{0: 3, 1: 2}, acres{1: 9}, acres{0: 0, 1: 5}},
		"nothing left":             {acres{0: 3}, acres{}, acres{0: 3}},
	} {
		shares, left := of(c.shares), of(c.left)
		got := acres{}
		for _, s := range atLeast(shares, left) {
			got[s.Unit] = s.Infested
		}
		if !maps.Equal(got, c.want) || !slices.Equal(shares, of(c.shares)) {
			t.Errorf("%s: %v, want %v; given %v", name, got, c.want, shares)
		}
	}
}

// TestUnitsOfWork: work has a unit where it has a position and is on no stand of the map.
func TestUnitsOfWork(t *testing.T) {
	square := func(west float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{west, 50}, {west + 1, 50}, {west + 1, 51}, {west, 51}, {west, 50}}}}
	}
	units := allocate.NewMap([]unit.Unit{{ID: "a", Areas: square(10)}, {ID: "b", Areas: square(11)}})
	job := func(lon float64, placed bool, on ...result.Ground) result.Treatment {
		return result.Treatment{Treatment: treatment.Treatment{Placed: placed, Position: orb.Point{lon, 50.5}}, On: on, Unit: 7}
	}
	known, there := result.Ground{Stand: -1, Known: 0}, result.Ground{Stand: 0, Known: -1}
	c := computation{run: &result.Run{Treatments: []result.Treatment{
		job(10.5, true), job(11.5, true), job(12.5, true), job(11.5, false), job(11.5, true, known), job(11.5, true, there), job(11.5, true, known, there),
	}}}
	c.placeTreatments(units)
	var got []int32
	for _, j := range c.run.Treatments {
		got = append(got, j.Unit)
	}
	if want := []int32{0, 1, allocate.Outside, 7, 1, 7, 7}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestCountsOfTheManifest: the manifest counts what a batch has, and names only what was given.
func TestCountsOfTheManifest(t *testing.T) {
	stands := make([]result.Stand, 3)
	stands[0].CarriedFrom = survey.Quarter{Year: 2026, Number: 1}
	stands[1].CarriedFrom = survey.Quarter{Year: 2026, Number: 2}
	stands[0].Parents, stands[1].Parents = []int32{0}, []int32{0}
	stands[0].Isolated, stands[2].Zone.InZone = true, true
	base := map[string]int{"records": 0, "centerlines": 0, "stands": 0, "isolated_stands": 0, "aquatic_zone_stands": 0, "reaches": 0, "findings": 0, "absent_stands": 0}
	with := func(more map[string]int) map[string]int {
		all := maps.Clone(base)
		maps.Copy(all, more)
		return all
	}
	for name, c := range map[string]struct {
		run  result.Run
		want map[string]int
	}{
		"nothing":     {result.Run{}, base},
		"records":     {result.Run{Records: survey.Records{Listed: make([]survey.Record, 2)}}, with(map[string]int{"records": 2})},
		"one unit":    {result.Run{Units: make([]unit.Unit, 1)}, with(map[string]int{"units": 1})},
		"two units":   {result.Run{Units: make([]unit.Unit, 2)}, with(map[string]int{"units": 2})},
		"no works":    {result.Run{WorksGiven: true}, with(map[string]int{"works": 0, "notices": 0})},
		"works":       {result.Run{WorksGiven: true, Works: make([]work.Work, 2)}, with(map[string]int{"works": 2, "notices": 0})},
		"the first":   {result.Run{Stands: stands[2:]}, with(map[string]int{"stands": 1, "aquatic_zone_stands": 1})},
		"a later one": {result.Run{Stands: stands, Previous: &result.Previous{Known: make([]lineage.Known, 1), Then: make([]result.Then, 1), Fates: make([]lineage.Change, 1), Looks: make([]lineage.Look, 1), Home: make([]int32, 1), Restated: make([]int64, 1), Margins: make([]margin.Form, 1)}}, with(map[string]int{"stands": 3, "isolated_stands": 1, "aquatic_zone_stands": 1, "carried_stands": 2})},
		"absent":      {result.Run{Absent: make([]result.Absent, 1), Previous: &result.Previous{}}, with(map[string]int{"absent_stands": 1, "carried_stands": 0})},
	} {
		c.run.Quarter = survey.Quarter{Year: 2026, Number: 3}
		if got := (Delivery{}).manifest(&c.run, []mapfile.File{}).Counts; !maps.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
	}
}

// TestMonthsOfAnArea: the months in which a stand is planned, each that has a day on which all rules let it
// be treated; without a plan those of the year after the quarter, if there are rules; by hand.
func TestMonthsOfAnArea(t *testing.T) {
	on := func(year int, month time.Month, day int) time.Time {
		return time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
	}
	row := func(from, to time.Time) *plan.Row { return &plan.Row{From: from, To: to} }
	closed := treatable.Rule{ClosedFrom: "03-02", ClosedTo: "04-30", Factor: math.NaN()}
	autumn := treatable.Rule{Months: "10-11", Method: "cut stump", Factor: math.NaN()}
	for name, c := range map[string]struct {
		rules []treatable.Rule
		plan  []*plan.Row // nil for no plan
		want  string
	}{
		"a quarter":                 {nil, []*plan.Row{row(on(2027, 1, 1), on(2027, 3, 31))}, "2027-01 2027-02 2027-03"},
		"one day":                   {nil, []*plan.Row{row(on(2027, 2, 1), on(2027, 2, 1))}, "2027-02"},
		"to the first of a month":   {nil, []*plan.Row{row(on(2027, 1, 31), on(2027, 3, 1))}, "2027-01 2027-02 2027-03"},
		"from the last of a month":  {nil, []*plan.Row{row(on(2027, 1, 31), on(2027, 2, 28))}, "2027-01 2027-02"},
		"over the turn of the year": {nil, []*plan.Row{row(on(2026, 12, 5), on(2027, 1, 5))}, "2026-12 2027-01"},
		"a leap day":                {nil, []*plan.Row{row(on(2028, 2, 29), on(2028, 2, 29))}, "2028-02"},
		"two rows":                  {nil, []*plan.Row{row(on(2027, 1, 1), on(2027, 1, 31)), row(on(2027, 6, 1), on(2027, 6, 30))}, "2027-01 2027-06"},
		"planned for nothing":       {nil, []*plan.Row{}, ""},
		// of March one day is open, of April none: 1 May is no day of April
		"closed": {[]treatable.Rule{closed}, []*plan.Row{row(on(2027, 2, 1), on(2027, 5, 1))}, "2027-02 2027-03 2027-05"},
		// 1 October is no day of September
		"a method's months":   {[]treatable.Rule{autumn}, []*plan.Row{row(on(2027, 7, 1), on(2027, 12, 31))}, "2027-10 2027-11"},
		"no plan and no rule": {nil, nil, ""},
		"no plan":             {[]treatable.Rule{autumn}, nil, "2026-10 2026-11"},
		"no plan, all year":   {[]treatable.Rule{closed}, nil, "2026-10 2026-11 2026-12 2027-01 2027-02 2027-03 2027-05 2027-06 2027-07 2027-08 2027-09"},
	} {
		rules := slices.Clone(c.rules)
		for i := range rules {
			rules[i].File, rules[i].Row, rules[i].Parcel = "rules.csv", i+1, "P"
		}
		read, found := treatable.Check(rules, treatable.Options{})
		if len(found) > 0 || len(read) != len(c.rules) {
			t.Fatalf("%s: %v", name, found)
		}
		k := computation{run: &result.Run{}, terms: &conditions{rules: [][]treatable.Rule{read}}}
		if k.in.Quarter = (survey.Quarter{Year: 2026, Number: 3}); c.plan != nil {
			k.run.Plan = &plan.Plan{}
		}
		if got := strings.Join(k.months(0, c.plan), " "); got != c.want {
			t.Errorf("%s: %s, want %s", name, got, c.want)
		}
	}
}

// TestGoneSubjects: work is matched to stands that were once mapped and are no longer on the map, found or
// not, but to none that a correction removed, and to none that the map still carries.
func TestGoneSubjects(t *testing.T) {
	for name, c := range map[string]struct {
		fate   lineage.Change
		absent bool
		out    lineage.Change
		want   bool
	}{
		"continued":                         {"", false, "", false},
		"not detected now":                  {lineage.NotDetected, false, "", true},
		"not detected now and before":       {lineage.NotDetected, true, "", true},
		"not looked at, on the map":         {lineage.NotResurveyed, false, "", false},
		"not looked at, gone before":        {lineage.NotResurveyed, true, "", true},
		"removed and not detected":          {lineage.NotDetected, true, lineage.Misidentified, false},
		"removed and not looked at":         {lineage.NotResurveyed, true, lineage.Misidentified, false},
		"removed as the same as another":    {lineage.NotResurveyed, true, lineage.SameStand, false},
		"removed and there":                 {"", false, lineage.NotSameStand, false},
		"removed, on the map and unvisited": {lineage.NotResurveyed, false, lineage.Misidentified, false},
	} {
		known := lineage.Known{Absent: c.absent}
		known.ID, known.Out = "2026Q1-0001", c.out
		k := computation{lineage: lineage.Lineage{Fates: []lineage.Change{c.fate}}}
		k.in.Previous = &earlier.Batch{Known: []lineage.Known{known}}
		got := k.goneSubjects()
		if (len(got) == 1) != c.want || c.want && (got[0].ID != known.ID || got[0].Look != followup.Nobody || got[0].Present) {
			t.Errorf("%s: %+v", name, got)
		}
	}
}
