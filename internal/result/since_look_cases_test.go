package result

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/allocate"
	"driftreach/internal/drift"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/unit"
)

// TestWhatCountsSinceTheLastLook: by hand, in grains, for a stand of 80 gross, 40 infested, 20
// canopy and 8 in the zone.
func TestWhatCountsSinceTheLastLook(t *testing.T) {
	run := &Run{Quarter: q3, Previous: &Previous{Quarter: q2}}
	all := allocate.Share{Gross: 80, Infested: 40, Canopy: 20, Zone: 8}
	for name, test := range map[string]struct {
		stand  Stand
		parts  StandParts
		change acreages
		looks  map[survey.Quarter]int64
	}{
		"seen whole":             {Stand{}, StandParts{Own: 40}, acreages{80, 40, 20, 8}, map[survey.Quarter]int64{q3: 40}},
		"treated":                {Stand{Stand: stand.Stand{Status: survey.Treated}}, StandParts{Own: 40}, acreages{80, 40, 20, 8, 40, 0}, map[survey.Quarter]int64{q3: 40}},
		"dead":                   {Stand{Stand: stand.Stand{Status: survey.StandingDead}}, StandParts{Own: 40}, acreages{80, 40, 20, 8, 0, 40}, map[survey.Quarter]int64{q3: 40}},
		"carried in part":        {Stand{}, StandParts{Own: 30, Carried: 10}, acreages{80, 40, 20, 8}, map[survey.Quarter]int64{q2: 10, q3: 30}},
		"a half first looked at": {Stand{}, StandParts{Own: 40, FirstLooked: 20}, acreages{40, 20, 10, 4}, map[survey.Quarter]int64{q3: 40}},
		"all of it":              {Stand{}, StandParts{Own: 40, FirstLooked: 40}, acreages{}, map[survey.Quarter]int64{q3: 40}},
		"nobody went there":      {Stand{Change: lineage.NotResurveyed, CarriedFrom: q1}, StandParts{Carried: 40}, acreages{}, map[survey.Quarter]int64{q1: 40}},
		"looked at in vain":      {Stand{Change: lineage.PartlyNotDetected, CarriedFrom: q1}, StandParts{Carried: 40}, acreages{80, 40, 20, 8}, map[survey.Quarter]int64{q1: 40}},
	} {
		var s sinceLook
		s.addNow(run, &test.stand, all, test.parts)
		if s.change != test.change {
			t.Errorf("%s: %v, want %v", name, s.change, test.change)
		}
		if d := cmp.Diff(test.looks, s.looks); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	for name, test := range map[string]struct {
		known  lineage.Known
		fate   lineage.Change
		change acreages
		looks  map[survey.Quarter]int64
	}{
		"found":                 {lineage.Known{Stand: stand.Stand{Status: survey.Treated}}, "", acreages{-80, -40, -20, -8, -40, 0}, nil},
		"looked for in vain":    {lineage.Known{}, lineage.NotDetected, acreages{-80, -40, -20, -8}, map[survey.Quarter]int64{q3: 40}},
		"nobody went there":     {lineage.Known{}, lineage.NotResurveyed, acreages{}, nil},
		"a look-alike":          {lineage.Known{}, lineage.Misidentified, acreages{-80, -40, -20, -8}, map[survey.Quarter]int64{q3: 0}},
		"gone, and again":       {lineage.Known{Absent: true}, lineage.NotDetected, acreages{}, map[survey.Quarter]int64{q3: 0}},
		"gone, and found again": {lineage.Known{Absent: true}, "", acreages{}, nil},
		"gone, nobody went":     {lineage.Known{Absent: true}, lineage.NotResurveyed, acreages{}, nil},
		"goes on as another":    {lineage.Known{Stand: stand.Stand{Status: survey.StandingDead}}, lineage.SameStand, acreages{-80, -40, -20, -8, 0, -40}, nil},
	} {
		run.Previous.Known, run.Previous.Fates = []lineage.Known{test.known}, []lineage.Change{test.fate}
		var s sinceLook
		s.addBefore(run, 0, all)
		if s.change != test.change {
			t.Errorf("%s: %v, want %v", name, s.change, test.change)
		}
		if d := cmp.Diff(test.looks, s.looks); d != "" {
			t.Errorf("%s: %s", name, d)
		}
	}
	s := sinceLook{change: acreages{1, 70, 3, 4, 50, 6}}
	if s.Infested() != 70 || s.live() != 14 {
		t.Errorf("infested %d, live %d", s.Infested(), s.live())
	}
	o := sinceLook{change: acreages{1, 1, 1, 1, 1, 1}, looks: map[survey.Quarter]int64{q1: 2e10, q3: 5e9}}
	s.join(&o)
	s.join(&o)
	if s.change != (acreages{3, 72, 5, 6, 52, 8}) {
		t.Error(s.change)
	}
	if got := s.told(run); !slices.Equal(got, []string{"2026Q1 4", "2026Q3 1"}) {
		t.Error(got)
	}
}

// TestPartOfAcres: three sevenths of acreages of 60 bits, rounded down to a grain, by hand; a part
// of 0 acres is 0, and no part exceeds the whole.
func TestPartOfAcres(t *testing.T) {
	const large = 7 << 57
	got := partOf(allocate.Share{Gross: 2 * large / 7, Infested: large, Canopy: large, Zone: 8}, 3*large/7)
	if want := (allocate.Share{Gross: 3 * (2 * large / 7) / 7, Infested: 3 << 57, Canopy: 3 << 57, Zone: 3}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := partOf(allocate.Share{Gross: 5}, 3); got != (allocate.Share{}) {
		t.Error(got)
	}
	if got := partOf(allocate.Share{Gross: 10, Infested: 5, Canopy: 5}, 6); got.Gross != 10 || got.Canopy != 5 || got.Infested != 6 {
		t.Error(got)
	}
}

// TestCorrectedUnits: units of the last batch, with a stand changed by a correction. By hand: the
// printed acres of a look-alike count in the units it had, and are withdrawn with a look in this
// quarter. The printed acres of the other stands are divided among units by the present rules.
func TestCorrectedUnits(t *testing.T) {
	run := &Run{Quarter: q3, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}}}
	was := stand.Pack(square(-40, -33))
	run.Previous = &Previous{
		Quarter: q2,
		Known: []lineage.Known{
			{Stand: stand.Stand{ID: "a"}, Ruled: lineage.Ruled{Out: lineage.Misidentified, Was: &was}}, {Stand: stand.Stand{ID: "b", Infested: 3 * acre, Gross: 3 * acre}},
		},
		Fates: []lineage.Change{lineage.Misidentified, lineage.NotDetected}, Home: []int32{-1, -1}, Restated: []int64{0, 3e10},
		Then:   []Then{{Infested: 2e10}, {Infested: 33e9}},
		Shares: [][]allocate.Share{nil, {{Unit: 0, Infested: 1e10}, {Unit: 1, Infested: 2e10}}},
		Was:    [][]allocate.Share{{{Unit: 1, Infested: 15e9}, {Unit: allocate.Outside, Infested: 5e9}}, nil},
	}
	want := map[string][3]int64{ // previous, restated, not detected
		"total": {53e9, -23e9, 3e10}, "u1": {11e9, -1e9, 1e10}, "u2": {37e9, -17e9, 2e10}, "outsideUnits": {5e9, -5e9, 0},
	}
	looks := map[string][]string{"total": {"2026Q3 3"}, "u1": {"2026Q3 1"}, "u2": {"2026Q3 2"}, "outsideUnits": {"2026Q3 0"}}
	for _, s := range Summarize(run) {
		name := s.UnitID
		if name == "" {
			name = string(s.Scope)
		}
		w, there := want[name]
		if !there {
			continue
		}
		delete(want, name)
		if got := [3]int64{s.Change.Previous, s.Change.Restated, s.Change.NotDetected}; got != w {
			t.Errorf("%s: %v, want %v", name, got, w)
		}
		if got := s.Since.told(run); !slices.Equal(got, looks[name]) {
			t.Errorf("%s was looked at last %v, want %v", name, got, looks[name])
		}
	}
	if len(want) > 0 {
		t.Errorf("no rows of %v", want)
	}
	for i, test := range []struct {
		shares []allocate.Share
		want   []int64
	}{{nil, []int64{}}, {[]allocate.Share{{Infested: 30}}, []int64{100}}, {[]allocate.Share{{Infested: 10}, {Infested: 10}, {Infested: 10}}, []int64{34, 33, 33}}} {
		if got := thenShares(100, 30, test.shares); !slices.Equal(got, test.want) {
			t.Errorf("%d: %v, want %v", i, got, test.want)
		}
	}
}

// TestKnownRows: a known stand counts under its stream's name; if its line has no name, as unnamed;
// without a line, as no stream.
func TestKnownRows(t *testing.T) {
	run := &Run{Quarter: q3}
	for want, got := range map[Scope]Sum{WaterBody: knownRow(run, "l", "Long Water"), Unnamed: knownRow(run, "l", ""), NoStream: knownRow(run, "", "")} {
		if got.Scope != want || got.Quarter != "2026Q3" || (got.Name != "") != (want == WaterBody) {
			t.Errorf("%+v, want %s", got, want)
		}
	}
	if s := knownRow(run, "", "Long Water"); s.Scope != WaterBody || s.Name != "Long Water" {
		t.Errorf("%+v", s)
	}
	rows := []Sum{{Scope: NoStand}, {Scope: NoStream}, {Scope: Unnamed}, {Scope: WaterBody, Name: "b"}, {Scope: WaterBody, Name: "a"}}
	slices.SortFunc(rows, bySection)
	var got []string
	for _, s := range rows {
		got = append(got, string(s.Scope)+s.Name)
	}
	if !slices.Equal(got, []string{"waterBodya", "waterBodyb", "unnamed", "noStream", "noStand"}) {
		t.Error(got)
	}
}

// TestPartsByAcresAndByArea: a quarter of a stand of 2 acres was treated: half an acre. If only
// acres are given, it has that share of the exposure; if an area was drawn, the exposure of that
// area. By hand. A stand treated whole, or not at all, has no parts.
func TestPartsByAcresAndByArea(t *testing.T) {
	acres := Stand{Stand: stand.Stand{ID: "s", Infested: 2 * acre}, Done: followup.Part{Share: 0.25, ByAcres: 0.25}, Drift: drift.Outcome{ReachKm: 9, Exposure: 8}, Waiting: &drift.Outcome{ReachKm: 9, Exposure: 8}}
	area := acres
	area.Done.ByAcres, area.Done.Cut = 0, &followup.Cut{Rest: square(-40, -33), Ground: square(-39, -33)}
	area.Waiting, area.Treated = &drift.Outcome{ReachKm: 7, Exposure: 5}, &drift.Outcome{ReachKm: 3, Exposure: 2}
	whole, none := acres, acres
	whole.Done.Share, none.Done = 1, followup.Part{}
	run := &Run{Quarter: q3, Stands: []Stand{whole, acres, none, area}}
	var got []string
	without := []string{"decimalLongitude", "decimalLatitude", "quarter"}
	table := PartTable(run)
	table.Fields = slices.DeleteFunc(table.Fields, func(f Field) bool { return slices.Contains(without, f.Name) })
	got = said(run, table, true)
	want := []string{
		"stand_id=s | part=to_treat | known_by=acres | treat_order=0 | infested_acres=1.5 | reach_km=9 | exposure=6",
		"stand_id=s | part=treated | known_by=acres | infested_acres=0.5 | reach_km=9 | exposure=2",
		"stand_id=s | part=to_treat | known_by=area | treat_order=0 | infested_acres=1.5 | reach_km=7 | exposure=5",
		"stand_id=s | part=treated | known_by=area | infested_acres=0.5 | reach_km=3 | exposure=2",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	for i, s := range []*Stand{&whole, &acres, &none, &area} {
		if got, want := exposureToTreat(s), []float64{8, 6, 8, 5}[i]; float64(got) != want {
			t.Errorf("stand %d: treating it takes away %g, want %g", i, got, want)
		}
	}
	if v := percentOf(drift.Step{Exposure: 1}, 0); v.Kind != Null {
		t.Error("a share of nothing is", v)
	}
}

// TestLastDigitsMoveBetweenRows: by hand, a step is 10. A row without acres in the last batch got
// two last digits by rounding. They move to the row that has some, through the first part that both
// have: new acres. Missing digits move the other way.
func TestLastDigitsMoveBetweenRows(t *testing.T) {
	rows := []Sum{{Change: Parts{Previous: 20, New: 10}}, {Change: Parts{Previous: 50, New: 40}}}
	b := balance{rows: rows, exact: []Parts{{New: 27}, {Previous: 53, New: 41}}, step: 10}
	b.settle()
	if rows[0].Change != (Parts{New: 30}) || rows[1].Change != (Parts{Previous: 70, New: 20}) {
		t.Errorf("%+v", rows)
	}
	rows = []Sum{{Change: Parts{Previous: 10, NotDetected: 20, Cleared: 10}}, {Change: Parts{Previous: 50, NotDetected: 10}}}
	b = balance{rows: rows, exact: []Parts{{NotDetected: 12, Cleared: 9}, {Previous: 53, NotDetected: 12}}, step: 10}
	b.settle()
	if rows[0].Change != (Parts{NotDetected: 10, Cleared: 10}) || rows[1].Change != (Parts{Previous: 60, NotDetected: 20}) {
		t.Errorf("%+v", rows)
	}
	// no row has the part, so nothing moves
	rows = []Sum{{Change: Parts{Previous: 10, New: 10}}, {Change: Parts{Previous: 50, FoundAgain: 40}}}
	b = balance{rows: rows, exact: []Parts{{New: 19}, {Previous: 53, FoundAgain: 41}}, step: 10}
	b.settle()
	if rows[0].Change != (Parts{Previous: 10, New: 10}) || rows[1].Change.Previous != 50 {
		t.Errorf("%+v", rows)
	}
	// a row below 0 gets new acres from the first row that has new and previous acres; if none has,
	// it is raised by observed change from any row
	rows = []Sum{{Change: Parts{Previous: -10, New: 30}}, {Change: Parts{Previous: 0, New: 10}}, {Change: Parts{Previous: 10, New: 10}}}
	b = balance{rows: rows, exact: []Parts{{Previous: 1, New: 26}, {Previous: 4, New: 12}, {Previous: 9, New: 11}}, step: 10}
	b.settle()
	if rows[0].Change != (Parts{New: 20}) || rows[1].Change != (Parts{New: 10}) || rows[2].Change != (Parts{New: 20}) {
		t.Errorf("%+v", rows)
	}
	rows = []Sum{{Change: Parts{Previous: -10, New: 30}}, {Change: Parts{Previous: 10, FirstLooked: 10}}}
	b = balance{rows: rows, exact: []Parts{{Previous: 1, New: 26}, {Previous: 9, FirstLooked: 11}}, step: 10}
	b.settle()
	if rows[0].Change != (Parts{New: 30, Observed: -10}) || rows[1].Change != (Parts{FirstLooked: 10, Observed: 10}) {
		t.Errorf("%+v", rows)
	}
}

// TestOffByLook: the error of an acreage is listed by quarter in acres, defaults first; nothing
// without causes. The stand of 400 m2 has the errors of its own patch and of its measurement, both
// of this quarter, so the one look has the whole deviation.
func TestOffByLook(t *testing.T) {
	s := doubtful(t)
	run := &Run{Quarter: q3, AcreDecimals: 8}
	if got := run.offByLook(&s.Margin.Infested); got != nil {
		t.Error(got)
	}
	run.Causes = margin.NewCauses()
	run.Causes.Of(survey.Records{Listed: []survey.Record{{Detected: true}}}, func(int) survey.Quarter { return q3 })
	got := run.offByLook(&s.Margin.Infested)
	if want := "2026Q3 " + run.area(s.Margin.Infested.Sigma()).String(); len(got) != 1 || got[0] != want {
		t.Errorf("%v, want %s", got, want)
	}
}
