package lineage

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// TestJudge: one case for each rule of the package comment, with known stands of 100 m2, the last
// of them not detected; a tenth more or less counts as kept. By hand.
func TestJudge(t *testing.T) {
	known := []Known{{Stand: stand.Stand{Infested: 100}}, {Stand: stand.Stand{Infested: 100}}, {Stand: stand.Stand{Infested: 100}, Absent: true}}
	at := func(pairs ...[2]int32) (links []Link) {
		for _, p := range pairs {
			links = append(links, Link{Known: p[0], Stand: p[1]})
		}
		return links
	}
	for name, test := range map[string]struct {
		links    []Link
		outcomes []Outcome
		want     []Change
	}{
		"no links":              {nil, []Outcome{{Infested: 5}, {Infested: 5, Unknown: true}}, []Change{New, FirstLookedAt}},
		"a tenth more":          {at([2]int32{0, 0}), []Outcome{{Infested: 110}}, []Change{Kept}},
		"a tenth less":          {at([2]int32{0, 0}), []Outcome{{Infested: 90}}, []Change{Kept}},
		"just more":             {at([2]int32{0, 0}), []Outcome{{Infested: 110.01}}, []Change{Grown}},
		"just less":             {at([2]int32{0, 0}), []Outcome{{Infested: 89.99}}, []Change{Shrunk}},
		"unknown ground":        {at([2]int32{0, 0}), []Outcome{{Infested: 150, Unknown: true}}, []Change{Grown}},
		"carried in part":       {at([2]int32{0, 0}), []Outcome{{Infested: 100, Carried: true}}, []Change{PartlyResurveyed}},
		"found again":           {at([2]int32{2, 0}), []Outcome{{Infested: 100, Carried: true}}, []Change{FoundAgain}},
		"two into one":          {at([2]int32{0, 0}, [2]int32{1, 0}), []Outcome{{Infested: 100, Carried: true}}, []Change{Merged}},
		"with one that is gone": {at([2]int32{0, 0}, [2]int32{2, 0}), []Outcome{{Infested: 100}}, []Change{Merged}},
		"one into two":          {at([2]int32{0, 0}, [2]int32{0, 1}), []Outcome{{Infested: 1}, {Infested: 1, Carried: true}}, []Change{Split, Split}},
		"both":                  {at([2]int32{0, 0}, [2]int32{0, 1}, [2]int32{1, 1}), []Outcome{{Infested: 1}, {Infested: 1}}, []Change{Split, MergedAndSplit}},
		"side by side":          {at([2]int32{0, 1}, [2]int32{1, 2}), []Outcome{{Unknown: true}, {Infested: 200}, {Infested: 1}}, []Change{FirstLookedAt, Grown, Shrunk}},
	} {
		l := Lineage{Links: test.links, Groups: make([][]int32, len(test.outcomes))}
		if got := l.Judge(known, test.outcomes, DefaultSettings()); !slices.Equal(got, test.want) {
			t.Errorf("%s: %v, want %v", name, got, test.want)
		}
	}
	for c, want := range map[Change]bool{NotResurveyed: true, PartlyNotDetected: true, NotDetected: false, Kept: false, Misidentified: false, "": false} {
		if c.Stays() != want {
			t.Errorf("%q stays: %v", c, !want)
		}
	}
}

// TestFates: by hand: if a quarter of a stand may be unseen, a stand of which three quarters were
// seen counts as fully surveyed; a stand that was absent before is never partly gone.
func TestFates(t *testing.T) {
	for _, test := range []struct {
		share  float64
		absent bool
		want   Change
	}{
		{1, false, NotDetected}, {0.75, false, NotDetected}, {0.7499, false, PartlyNotDetected}, {0.01, false, PartlyNotDetected}, {0, false, NotResurveyed},
		{1, true, NotDetected}, {0.75, true, NotDetected}, {0.7499, true, NotResurveyed}, {0, true, NotResurveyed},
	} {
		s := DefaultSettings()
		s.UnseenShare = 0.25
		if got := fateOf(&Known{Absent: test.absent}, &Look{Share: test.share}, s); got != test.want {
			t.Errorf("%g, absent %v: %s, want %s", test.share, test.absent, got, test.want)
		}
	}
}

// TestSettingsOutOfRange: each setting has its own message, and values at the limits are accepted.
func TestSettingsOutOfRange(t *testing.T) {
	if err := DefaultSettings().Validate(); err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	for _, test := range []struct {
		want string // of the error; blank for none
		set  func(s *Settings)
	}{
		{"join distance", func(s *Settings) { s.JoinDistance = 0 }}, {"join distance", func(s *Settings) { s.JoinDistance = geo.Meters(nan) }},
		{"default patch", func(s *Settings) { s.DefaultPatch = 0 }}, {"overlap share", func(s *Settings) { s.OverlapShare = 0 }},
		{"overlap share", func(s *Settings) { s.OverlapShare = 1.001 }}, {"", func(s *Settings) { s.OverlapShare = 1 }},
		{"position uncertainty", func(s *Settings) { s.Uncertainty = 0 }}, {"width of water", func(s *Settings) { s.Barrier = -1 }}, {"", func(s *Settings) { s.Barrier = 0 }},
		{"unseen share", func(s *Settings) { s.UnseenShare = 1 }}, {"unseen share", func(s *Settings) { s.UnseenShare = -0.1 }}, {"", func(s *Settings) { s.UnseenShare = 0 }},
		{"", func(s *Settings) {
			s.JoinDistance, s.DefaultPatch, s.OverlapShare, s.Uncertainty, s.Barrier, s.UnseenShare = 0.5, 0.001, 0.001, 0.5, 0.5, 0.999
		}},
		{"kept within", func(s *Settings) { s.KeptWithin = 1.1 }}, {"kept within", func(s *Settings) { s.KeptWithin = -0.1 }},
		{"", func(s *Settings) { s.KeptWithin = 1 }}, {"", func(s *Settings) { s.KeptWithin = 0 }},
		{"air: what is found", func(s *Settings) { s.Sight[surveyed.Air].Absent = 101 }}, {"image: what is found", func(s *Settings) { s.Sight[surveyed.Image].Absent = -1 }},
		{"", func(s *Settings) { s.Sight[surveyed.Air].Absent = 100 }}, {"", func(s *Settings) { s.Sight[surveyed.Foot] = Sight{} }},
	} {
		s := DefaultSettings()
		test.set(&s)
		if err := s.Validate(); (err == nil) != (test.want == "") || err != nil && !strings.HasPrefix(err.Error(), test.want) {
			t.Errorf("%v, want %q", err, test.want)
		}
	}
}

// TestDefaultsAreTheStatedOnes: the defaults are those in the comments of the fields.
func TestDefaultsAreTheStatedOnes(t *testing.T) {
	want := Settings{JoinDistance: 30, DefaultPatch: 0.1, OverlapShare: 0.25, Uncertainty: 5, Barrier: 10, UnseenShare: 0.05, KeptWithin: 0.1}
	want.Sight[surveyed.Foot], want.Sight[surveyed.Boat], want.Sight[surveyed.Air] = Sight{50, 20}, Sight{50, 25}, Sight{100, 50}
	if got := DefaultSettings(); got != want {
		t.Errorf("%+v", got)
	}
}

// TestRulesAboutTheBatchBefore: each rule has a different name, and none rejects a record; those
// that change a figure are warnings.
func TestRulesAboutTheBatchBefore(t *testing.T) {
	want := map[string]check.Severity{
		"previous-gap": check.Note, "previous-settings": check.Warning, "previous-streams": check.Warning, "previous-units": check.Warning,
		"previous-ground": check.Warning, "previous-version": check.Warning, "previous-columns": check.Note,
		"previous-defaults": check.Warning, "previous-statuses": check.Warning,
	}
	for _, r := range Rules() {
		if s, there := want[r.Code]; !there || s != r.Severity || r.Remedy == "" {
			t.Errorf("%+v", r)
		}
		delete(want, r.Code)
	}
	if len(want) > 0 {
		t.Error(want)
	}
	for code, r := range map[string]check.Rule{
		"previous-gap": RuleGap(), "previous-settings": RuleSettings(), "previous-columns": RuleColumns(), "previous-streams": RuleStreams(),
		"previous-units": RuleUnits(), "previous-ground": RuleGround(), "previous-version": RuleVersion(), "previous-defaults": RuleDefaults(),
		"previous-statuses": RuleStatuses(),
	} {
		if r.Code != code {
			t.Errorf("%s is %s", code, r.Code)
		}
	}
}

// TestAnotherFindForAnother: matching of records and finds, by hand. Two records may match one
// find, and one of the two also another find: that one takes the other find. A third record that
// can match only a find already taken gets none, and the others keep theirs.
func TestAnotherFindForAnother(t *testing.T) {
	m := matching{find: map[int32]int32{}, known: map[int32]int32{}, may: map[int32][]int32{1: {10}, 2: {10, 20}, 3: {20, 30}, 4: {30}, 5: {30}}}
	m.join(2, 10)
	m.join(3, 20)
	if !m.widen(1) {
		t.Error("no find for the first")
	}
	for record, find := range map[int32]int32{1: 10, 2: 20, 3: 30} {
		if m.find[record] != find || m.known[find] != record {
			t.Errorf("%v, %v: %d is not %d", m.find, m.known, record, find)
		}
	}
	if m.widen(4) || m.widen(5) || len(m.find) != 3 || m.find[3] != 30 {
		t.Errorf("%v", m.find)
	}
	if m.widen(6) {
		t.Error("a record that may be no find has one")
	}
}

// TestMistakable: positions off by 3 and 4 m are mostly within 2 x 5 m of each other and nearly
// always within 15 m; a record without an uncertainty counts as off by 5 m; the result is never
// more than the join distance.
func TestMistakable(t *testing.T) {
	v := &viewer{witness: &witness{settings: DefaultSettings()}}
	three, four, five, far := &survey.Record{Uncertainty: 3}, &survey.Record{Uncertainty: 4}, &survey.Record{}, &survey.Record{Uncertainty: 100}
	near(t, "mostly", float64(v.mistakable(three, four, mostOf)), 10, 1e-9)
	near(t, "nearly always", float64(v.mistakable(four, three, outliers)), 15, 1e-9)
	near(t, "unsaid", float64(v.mistakable(five, five, mostOf)), 10*math.Sqrt2, 1e-9)
	near(t, "far", float64(v.mistakable(far, five, mostOf)), 30, 1e-9)
	records := []survey.Record{*three, *four, *far}
	near(t, "root mean square", float64(unsure(records, []int32{0, 1}, DefaultSettings())), math.Sqrt(12.5), 1e-9)
	near(t, "at most the join distance", float64(unsure(records, []int32{0, 2}, DefaultSettings())), 30, 1e-9)
	near(t, "of nobody", float64(unsure(records, nil, DefaultSettings())), 5, 1e-9)
}

// TestFindsOutsideSurveyedGround: surveyed ground elsewhere, and a row of plants 40 m apart, each
// linked to itself. By hand, a find counts as the plant within 3 x sqrt(50) = 21.2 m of it, nearest
// first, one plant for each: of three plants of a stand, two are found 5 m away and the third is
// carried.
func TestFindsOutsideSurveyedGround(t *testing.T) {
	s := DefaultSettings()
	before := knownOf(t, rowOf("k", 0, 25, 50))
	if len(before.Known) != 1 {
		t.Fatal(len(before.Known), "stands")
	}
	e := Evidence{Given: true, Ground: []surveyed.Ground{{Areas: orb.MultiPolygon{box(900, 900, 910, 910)}}}}
	for _, test := range []struct {
		name string
		at   []float64
		left []int32
	}{
		{"all three", []float64{5, 30, 45}, nil},
		{"two of three", []float64{5, 30}, []int32{2}},
		{"one between two is one", []float64{12}, []int32{1, 2}}, // 12 m from the first, 13 from the second
		{"two at one plant", []float64{-2, 2}, []int32{1, 2}},    // the second is 23 m from the next plant
	} {
		l := Trace(before, mappedNow(t, rowOf("n", test.at...)), e, s, 1)
		var left []int32
		for _, x := range l.Looks[0].Left {
			left = append(left, x.Record)
		}
		if !slices.Equal(left, test.left) {
			t.Errorf("%s: left %v, want %v; %+v", test.name, left, test.left, l.Links)
		}
	}
}

// TestPerimetersLink: two plants of 250 m2, 22 m apart, are one stand with a gap of 4.2 m. A plant
// of 5 m2 in the middle of the gap, 2.5 m across, shares no footprint with them, but is wholly
// inside their perimeter, which is sqrt(23.92^2 - 11^2) - 15 = 6 m to either side there. It is
// linked, with no shared ground and no distance, whichever was known. By hand. A plant of 100 m2 26
// m beside them is linked by distance instead: 26 m less radii of 8.921 and 5.642 m.
func TestPerimetersLink(t *testing.T) {
	one := func(prefix string, at ...float64) ([]survey.Record, stand.Stand) {
		found := rowOf(prefix, at...)
		all := make([]int32, len(found))
		for i := range all {
			if all[i] = int32(i); len(found) == 2 {
				found[i].PatchArea = 250
			} else if at[0] == 11 {
				found[i].PatchArea = 5
			}
		}
		return found, stand.Build(found, all, stand.DefaultSettings())
	}
	link := func(known, now []float64) []Link {
		before, was := one("k", known...)
		found, is := one("n", now...)
		return newLinker(Before{Records: before, Known: []Known{{Stand: was}}}, Now{Records: found, Stands: []stand.Stand{is}}, DefaultSettings(), 1).all()
	}
	for _, links := range [][]Link{link([]float64{0, 22}, []float64{11}), link([]float64{11}, []float64{0, 22})} {
		if len(links) != 1 || links[0].Apart != 0 || links[0].Shared != 0 {
			t.Errorf("%+v", links)
		}
	}
	links := link([]float64{0, 22}, []float64{48})
	if len(links) != 1 || links[0].Shared != 0 {
		t.Fatalf("%+v", links)
	}
	near(t, "apart", float64(links[0].Apart), 26-math.Sqrt(100/math.Pi)-math.Sqrt(250/math.Pi), 0.05)
}

// TestUncertaintyLinksBeforeDistance: plants known at 0 and 29 m, and finds at 15 and 33 m, of 100
// m2 each, none touching. By distance alone, links would go by nearest pairs. By hand: 33 is 4 m
// less two radii from 29, below 0, so they share ground; 15 is 3.7 m from the first, within
// hypot(5, 5) = 7.07 m: linked by uncertainty.
func TestUncertaintyLinksBeforeDistance(t *testing.T) {
	s := DefaultSettings()
	build := func(prefix string, at ...float64) ([]survey.Record, []stand.Stand) {
		found := rowOf(prefix, at...)
		var stands []stand.Stand
		for i := range found {
			stands = append(stands, stand.Build(found, []int32{int32(i)}, finelyDrawn()))
		}
		return found, stands
	}
	link := func(known, now []float64) []Link {
		records, stands := build("k", known...)
		before := Before{Records: records}
		for i := range stands {
			stands[i].ID = string(rune('a' + i))
			before.Known = append(before.Known, Known{Stand: stands[i]})
		}
		records, stands = build("n", now...)
		return newLinker(before, Now{Records: records, Stands: stands}, s, 1).all()
	}
	links := link([]float64{0, 29}, []float64{15, 33})
	if len(links) != 2 || links[0].Known != 1 || links[0].Stand != 1 || !(links[0].Shared > 0) || links[1].Known != 0 || links[1].Stand != 0 {
		t.Fatalf("%+v", links)
	}
	near(t, "apart", float64(links[1].Apart), 15-2*math.Sqrt(100/math.Pi), 0.05)
	// within the uncertainty of a stand that already has a link: linked too. 15.5 is 4.2 m from
	// both; the first pair in id order is linked first, then the other known stand
	links = link([]float64{0, 31}, []float64{15.5})
	if len(links) != 2 || links[0].Known != 0 || links[1].Known != 1 {
		t.Errorf("%+v", links)
	}
	// beyond the uncertainty, within the join distance: one to one, nearest first; the other gets no
	// link
	links = link([]float64{0, 60}, []float64{29})
	if len(links) != 1 || links[0].Known != 0 {
		t.Errorf("%+v", links)
	}
	// beyond the join distance of 30 m between edges
	if links = link([]float64{0}, []float64{41.4}); len(links) != 0 {
		t.Errorf("%+v", links)
	}
	if links = link([]float64{0}, []float64{41.2}); len(links) != 1 {
		t.Errorf("%+v", links)
	}
}

// TestStandsSetApartThatAreNot: a mapped stand that cannot be cut stays whole, and one that needs
// no cut is barred from the stand it is not; by hand.
func TestStandsSetApartThatAreNot(t *testing.T) {
	s := DefaultSettings()
	before := knownOf(t, rowOf("k", 0, 20, 40, 100, 120, 140))
	now := mappedNow(t, append(rowOf("n", 0, 20, 10), rowOf("o", 500, 520, 510)...))
	apart := []Separation{{Known: 0, Other: 1, Find: -1}}
	cut := SetApart(before, now, apart, s, builder(now.Records))
	if len(cut.Stands) != 2 || len(cut.Barred) != 0 { // too far from the second to be divided between both
		t.Errorf("%d stands, barred %v", len(cut.Stands), cut.Barred)
	}
	near60 := mappedNow(t, rowOf("n", 45, 55, 65))
	cut = SetApart(before, near60, apart, s, builder(near60.Records))
	if len(cut.Stands) != 1 || !slices.Equal(cut.Barred, []Pair{{1, 0}}) { // all nearer to the first: barred from the second
		t.Errorf("%d stands, barred %v", len(cut.Stands), cut.Barred)
	}
	near80 := mappedNow(t, rowOf("n", 80, 90, 100))
	cut = SetApart(before, near80, []Separation{{Known: 1, Other: 0, Find: -1}}, s, builder(near80.Records))
	if len(cut.Stands) != 1 || !slices.Equal(cut.Barred, []Pair{{0, 0}}) {
		t.Errorf("%d stands, barred %v", len(cut.Stands), cut.Barred)
	}
	before.Known[1].Out = Misidentified
	if cut = SetApart(before, near80, apart, s, builder(near80.Records)); len(cut.Stands) != 1 || len(cut.Barred) != 0 {
		t.Errorf("a look-alike: %d stands, barred %v", len(cut.Stands), cut.Barred)
	}
	if cut = SetApart(before, now, nil, s, nil); len(cut.Stands) != 2 {
		t.Error("without a separation there is nothing to do")
	}
	// two finds that are not the stand form one stand, the rest keeps its id
	before.Known[1].Out = ""
	row := mappedNow(t, rowOf("n", 0, 20, 40, 60))
	cut = SetApart(before, row, []Separation{{0, -1, 3}, {0, -1, 2}}, s, builder(row.Records))
	if len(cut.Stands) != 2 || !slices.Equal(cut.Stands[1].Members, []int32{2, 3}) || !slices.Equal(cut.Barred, []Pair{{0, 1}}) {
		t.Errorf("%+v, barred %v", cut.Stands, cut.Barred)
	}
}

// TestDaysOfLooks: the last day of all the evidence about a place, in any order; a stand wholly
// seen from one find has that stand's last day.
func TestDaysOfLooks(t *testing.T) {
	day := func(d int) time.Time { return time.Date(2026, 5, d, 0, 0, 0, 0, time.UTC) }
	before := knownOf(t, rowOf("k", 0))
	gone := rowOf("z", 2)
	gone[0].Detected, gone[0].PatchArea, gone[0].End = false, 0, survey.DayOf(day(7))
	early, late := surveyed.Ground{End: day(3), Areas: orb.MultiPolygon{box(-50, -50, 50, 50)}}, surveyed.Ground{End: day(9), Lines: orb.MultiLineString{path(10, -50, 10, 50)}}
	for _, test := range []struct {
		records []survey.Record
		ground  []surveyed.Ground
		want    time.Time
	}{
		{nil, []surveyed.Ground{early}, day(3)}, {nil, []surveyed.Ground{early, late}, day(9)}, {nil, []surveyed.Ground{late, early}, day(9)},
		{gone, nil, day(7)}, {gone, []surveyed.Ground{early}, day(7)}, {gone, []surveyed.Ground{late}, day(9)},
	} {
		l := Trace(before, mappedNow(t, test.records), Evidence{Given: test.ground != nil, Ground: test.ground}, DefaultSettings(), 1)
		if !l.Looks[0].Day.Equal(test.want) || l.Fates[0] != NotDetected {
			t.Errorf("%s, %v, want %v", l.Fates[0], l.Looks[0].Day, test.want)
		}
	}
	found := rowOf("n", 3)
	found[0].Begin, found[0].End = survey.DayOf(day(11)), survey.DayOf(day(12))
	if l := Trace(before, mappedNow(t, found), Evidence{}, DefaultSettings(), 1); !l.Looks[0].Day.Equal(day(12)) || l.Looks[0].Share != 1 {
		t.Errorf("%+v", l.Looks[0])
	}
}

// TestStandsSetApartAcrossACorner: two stands of three plants of 100 m2, and a mapped stand beside
// the second. Its box is 25 m from that of the first in both directions, so that it is 40 m away
// across the corner. By hand, it is not near both, whichever is named first, and nothing is barred.
func TestStandsSetApartAcrossACorner(t *testing.T) {
	before := knownOf(t, records(plant{0, 0, 100}, plant{20, 0, 100}, plant{40, 0, 100}, plant{100, 36, 100}, plant{120, 36, 100}, plant{140, 36, 100}))
	now := mappedNow(t, records(plant{76, 36, 100}, plant{86, 36, 100}, plant{81, 42, 100}))
	if len(before.Known) != 2 || len(now.Stands) != 1 {
		t.Fatal(len(before.Known), len(now.Stands))
	}
	for _, apart := range []Separation{{Known: 0, Other: 1, Find: -1}, {Known: 1, Other: 0, Find: -1}} {
		if cut := SetApart(before, now, []Separation{apart}, DefaultSettings(), builder(now.Records)); len(cut.Stands) != 1 || len(cut.Barred) != 0 {
			t.Errorf("%+v: %d stands, barred %v", apart, len(cut.Stands), cut.Barred)
		}
	}
	mirrored := before
	mirrored.Known = []Known{before.Known[1], before.Known[0]}
	if cut := SetApart(mirrored, now, []Separation{{Known: 0, Other: 1, Find: -1}}, DefaultSettings(), builder(now.Records)); len(cut.Stands) != 1 || len(cut.Barred) != 0 {
		t.Errorf("the far one second: %d stands, barred %v", len(cut.Stands), cut.Barred)
	}
}

// TestJudgeOfASmallStand: a stand of 1 m2 that changes by half a square metre no longer counts as
// kept.
func TestJudgeOfASmallStand(t *testing.T) {
	known := []Known{{Stand: stand.Stand{Infested: 1}}}
	for now, want := range map[geo.SquareMeters]Change{1.5: Grown, 0.5: Shrunk, 1.05: Kept} {
		l := Lineage{Links: []Link{{}}, Groups: make([][]int32, 1)}
		if got := l.Judge(known, []Outcome{{Infested: now}}, DefaultSettings()); got[0] != want {
			t.Errorf("%g m2: %s, want %s", float64(now), got[0], want)
		}
	}
}

// TestWideLooks: a record of "not detected" that searched 200 m around it saw a plant 150 m away,
// and the ground of a drawn patch there, but no plant 210 m away.
func TestWideLooks(t *testing.T) {
	for _, test := range []struct {
		known []survey.Record
		want  Change
	}{
		{records(plant{150, 0, 100}), NotDetected}, {records(plant{0, -195, 100}), NotDetected}, {records(plant{210, 0, 100}), NotResurveyed},
		{[]survey.Record{drawn("d", 120, -20, 180, 20)}, NotDetected}, {[]survey.Record{drawn("d", 220, -20, 280, 20)}, NotResurveyed},
		{[]survey.Record{drawn("d", 150, -20, 250, 20)}, PartlyNotDetected},
	} {
		l := Trace(knownOf(t, test.known), mappedNow(t, searched(orb.Point{0, 0}, 200)), Evidence{}, DefaultSettings(), 1)
		if l.Fates[0] != test.want {
			t.Errorf("%v: %s, want %s", base.Forward(test.known[0].Position), l.Fates[0], test.want)
		}
	}
}

// TestAreasOfNothing: an area without rings, or with an empty ring, among the areas of a surveyed
// piece neither sees nor hides anything.
func TestAreasOfNothing(t *testing.T) {
	before := knownOf(t, records(plant{0, 0, 100}))
	for name, areas := range map[string]orb.MultiPolygon{
		"none but these": {{}, {{}}}, "among others": {{}, {{}}, box(-20, -20, 20, 20)}, "after others": {box(-20, -20, 20, 20), {{}}, {}},
	} {
		l := Trace(before, Now{}, Evidence{Given: true, Ground: []surveyed.Ground{{Areas: areas}}}, DefaultSettings(), 1)
		if want := map[bool]Change{true: NotResurveyed, false: NotDetected}[len(areas) == 2]; l.Fates[0] != want {
			t.Errorf("%s: %s, want %s", name, l.Fates[0], want)
		}
	}
}

// TestMostWasLookedAt: a record searched 22 m around a place and found nothing. Plants at 22 m are
// seen; a plant at 25 m is no farther outside than its position is uncertain, a plant at 50 m is.
// By hand: where at least half of the stand was seen, position error alone keeps nothing, so the
// plant at 25 m is gone too; where a third was seen, it is carried with the other.
func TestMostWasLookedAt(t *testing.T) {
	for name, test := range map[string]struct {
		at   []float64
		left []int32
	}{
		"half of it": {[]float64{-20, 0, 25, 50}, []int32{3}}, "a third": {[]float64{0, 25, 50}, []int32{1, 2}}, "three of five": {[]float64{-20, 0, 15, 25, 50}, []int32{4}},
	} {
		var left []int32
		l := Trace(knownOf(t, rowOf("k", test.at...)), mappedNow(t, searched(orb.Point{0, 0}, 22)), Evidence{}, DefaultSettings(), 1)
		for _, x := range l.Looks[0].Left {
			left = append(left, x.Record)
		}
		if !slices.Equal(left, test.left) {
			t.Errorf("%s: left %v, want %v", name, left, test.left)
		}
	}
}

// TestLargePatchesOutliveTheirError: a record searched 22 m around a place and found nothing. A
// plant at 26 m, and a patch with a radius of 18 m at 45 m, are no farther outside than the 30 m by
// which their positions are uncertain. The plant is gone with the half that was seen. The patch is
// more than position error: nothing of its ground was seen, so it is carried whole. By hand.
func TestLargePatchesOutliveTheirError(t *testing.T) {
	known := records(plant{-12, 0, 600}, plant{0, 0, 600}, plant{12, 0, 600}, plant{26, 0, 100}, plant{45, 0, math.Pi * 18 * 18})
	for i := range known {
		known[i].Uncertainty = 30
	}
	look := Trace(knownOf(t, known), mappedNow(t, searched(orb.Point{0, 0}, 22)), Evidence{}, DefaultSettings(), 1).Looks[0]
	if len(look.Left) != 1 || look.Left[0].Record != 4 || look.Left[0].Patch != nil {
		t.Fatalf("left %+v, want the large patch whole", look.Left)
	}
	near(t, "share", look.Share, 1900/(1900+math.Pi*18*18), 1e-9)
}

// TestSmallPatchesAreWholeOrNot: a patch with a radius of 14.5 m is seen by its middle, one of 15.5
// m is cut. By hand, of ground that begins a metre east of their middles: nothing of the first is
// seen, and of the second the part of the disc beyond a chord at 1 m, 0.459.
func TestSmallPatchesAreWholeOrNot(t *testing.T) {
	for radius, want := range map[float64]float64{14.5: 0, 15.5: beyond(1, 15.5)} {
		before := knownOf(t, records(plant{0, 0, math.Pi * radius * radius}))
		e := Evidence{Given: true, Ground: []surveyed.Ground{{Areas: orb.MultiPolygon{box(1, -50, 50, 50)}}}}
		look := Trace(before, Now{}, e, DefaultSettings(), 1).Looks[0]
		near(t, "share", look.Share, want, 2e-3)
		if len(look.Left) != 1 || (look.Left[0].Patch == nil) != (want == 0) {
			t.Errorf("%g m: %+v", radius, look.Left)
		}
	}
}

// TestLinksOfAGroupAddUp: two finds on the ground of a stand that a correction declares one
// continue as one stand. Its shared ground is the sum of both: the two discs of 100 m2, by hand,
// which are wholly on that ground.
func TestLinksOfAGroupAddUp(t *testing.T) {
	before, now := knownOf(t, rowOf("k", 0, 20, 40, 60, 80, 100)), mappedNow(t, rowOf("n", 0, 100))
	before.Known[0].Same = []string{"another"}
	l := Trace(before, now, Evidence{}, DefaultSettings(), 1)
	if len(l.Links) != 1 || !slices.Equal(l.Groups[0], []int32{0, 1}) || l.IDs[0] != before.Known[0].ID {
		t.Fatalf("%+v", l)
	}
	near(t, "m2 shared", float64(l.Links[0].Shared), 200, 0.5)
}
