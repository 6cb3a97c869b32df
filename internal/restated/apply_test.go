package restated

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/earlier"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

func on(month time.Month, day int) time.Time {
	return time.Date(2026, month, day, 0, 0, 0, 0, time.UTC)
}

// patches are records of 400 m2 each, far enough apart that no ground is shared: by id, day and
// kilometres to the east.
func patches(of ...any) []survey.Record {
	var out []survey.Record
	for i := 0; i < len(of); i += 3 {
		day := survey.DayOf(of[i+1].(time.Time))
		out = append(out, survey.Record{
			ID: of[i].(string), File: "p.csv", Position: orb.Point{10 + of[i+2].(float64)/111.32, 0}, Detected: true, PatchArea: 400, Cover: 50, StemHeight: geo.Meters(math.NaN()), Begin: day, End: day,
		})
	}
	return out
}

// quarterBefore is a batch with a stand A of two records of May and June, 60 m apart, and a stand B of
// one, 5 km off; in this quarter there is a find on the ground of A, and one far from all.
func quarterBefore(t *testing.T) (observed.Quarter, *earlier.Batch, settings.Stages) {
	rules, err := settings.Default().Stages()
	if err != nil {
		t.Fatal(err)
	}
	p := &earlier.Batch{Quarter: quarter(2026, 2), Records: patches("a1", on(5, 1), 0.0, "a2", on(6, 20), 0.06, "b1", on(5, 1), 5.0), From: make([]survey.Quarter, 3)}
	for id, members := range map[string][]int32{"2026Q1-0001": {0, 1}, "2026Q1-0002": {2}} {
		k := lineage.Known{Stand: stand.Build(p.Records, members, rules.Stands), Quarter: p.Quarter}
		k.ID, k.Zone, k.Memory.Ever = id, k.Infested/4, k.Infested.Grains()
		p.Known = append(p.Known, k)
		p.Followup = append(p.Followup, followup.Row{StandID: id})
	}
	slices.SortFunc(p.Known, func(a, b lineage.Known) int { return strings.Compare(a.ID, b.ID) })
	p.Then = []result.Then{{Infested: p.Known[0].Infested.Grains()}, {Infested: p.Known[1].Infested.Grains()}}
	in := observed.Quarter{Quarter: quarter(2026, 3), Records: survey.Records{Listed: patches("f1", on(7, 5), 0.001, "f2", on(7, 5), 20.0)}}
	return in, p, rules
}

// after says what is left: each stand with its square metres in whole, and whether it was taken out;
// the records of this quarter; the stands in the follow-up.
func after(in observed.Quarter, p *earlier.Batch) string {
	var out []string
	for i := range p.Known {
		k := &p.Known[i]
		text := fmt.Sprintf("%s %.0f zone %.0f", k.ID[2:], float64(k.Infested), float64(k.Zone))
		if k.Out != "" {
			text += " out: " + string(k.Out)
		}
		if len(k.Same) > 0 {
			text += " is also " + strings.Join(k.Same, ", ")
		}
		out = append(out, text)
	}
	var finds, due []string
	for i := range in.Records.Listed {
		finds = append(finds, in.Records.Listed[i].ID)
	}
	for i := range p.Followup {
		due = append(due, p.Followup[i].StandID[2:])
	}
	slices.Sort(due)
	return strings.Join(out, "; ") + " | " + strings.Join(finds, " ") + " | " + strings.Join(due, " ")
}

// TestCorrectionsByHand: what each kind of row does to the stands of the batch before, to the finds of
// this quarter and to the follow-up, with the codes of its findings. A has two patches of 400 m2, B
// one; a quarter of either lies in the zone.
func TestCorrectionsByHand(t *testing.T) {
	const a, b = "2026Q1-0001", "2026Q1-0002"
	const untouched = "26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100 | f1 f2 | 26Q1-0001 26Q1-0002"
	for _, c := range []struct {
		name  string
		row   correction.Correction
		want  string
		taken bool
		codes string
	}{
		{"a whole stand", correction.Correction{Kind: correction.Misidentified, StandID: a, Date: on(8, 1)},
			"26Q1-0001 0 zone 0 out: misidentified; 26Q1-0002 400 zone 100 | f2 | 26Q1-0002", true, "correction-applied"},
		{"before the find of this quarter", correction.Correction{Kind: correction.Misidentified, StandID: a, Date: on(7, 1)},
			"26Q1-0001 0 zone 0 out: misidentified; 26Q1-0002 400 zone 100 | f1 f2 | 26Q1-0002", true, "correction-applied"},
		{"a part of it is later", correction.Correction{Kind: correction.Misidentified, StandID: a, Date: on(6, 1)},
			"26Q1-0001 400 zone 100; 26Q1-0002 400 zone 100 | f1 f2 | 26Q1-0001 26Q1-0002", true, "correction-applied correction-record-later"},
		{"all of it is later", correction.Correction{Kind: correction.Misidentified, StandID: a, Date: on(4, 1)},
			untouched, false, "correction-without-effect correction-record-later correction-record-later"},
		{"one record", correction.Correction{Kind: correction.Misidentified, RecordID: "a2", Date: on(8, 1)},
			"26Q1-0001 400 zone 100; 26Q1-0002 400 zone 100 | f1 f2 | 26Q1-0001 26Q1-0002", true, "correction-applied"},
		{"a find of this quarter", correction.Correction{Kind: correction.Misidentified, RecordID: "f2", Date: on(8, 1)},
			"26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100 | f1 | 26Q1-0001 26Q1-0002", true, "correction-applied"},
		{"a stand of one record, by it", correction.Correction{Kind: correction.Misidentified, RecordID: "b1", Date: on(8, 1)},
			"26Q1-0001 800 zone 200; 26Q1-0002 0 zone 0 out: misidentified | f1 f2 | 26Q1-0001", true, "correction-applied"},
		{"no such stand", correction.Correction{Kind: correction.Misidentified, StandID: "2020Q1-0009", Date: on(8, 1)}, untouched, false, "correction-not-found"},
		{"no such record", correction.Correction{Kind: correction.Misidentified, RecordID: "x", Date: on(8, 1)}, untouched, false, "correction-not-found"},
		{"two stands are one", correction.Correction{Kind: correction.SameStand, StandID: a, OtherID: b, Date: on(8, 1)},
			"26Q1-0001 0 zone 0 out: same stand; 26Q1-0002 1200 zone 300 is also 2026Q1-0001 | f1 f2 | 26Q1-0001 26Q1-0002", true, "correction-applied"},
		{"a stand and itself", correction.Correction{Kind: correction.SameStand, StandID: a, OtherID: a, Date: on(8, 1)}, untouched, false, "correction-without-effect"},
		{"one stand is none", correction.Correction{Kind: correction.SameStand, StandID: "2020Q1-0009", OtherID: b, Date: on(8, 1)}, untouched, false, "correction-not-found"},
		{"a record is of another stand", correction.Correction{Kind: correction.NotSameStand, RecordID: "a2", StandID: a, Date: on(8, 1)},
			"26Q1-0001 400 zone 100; 26Q1-0002 400 zone 100; 26Q3-0001 400 zone 100 | f1 f2 | 26Q1-0001 26Q1-0002", true, "correction-applied"},
	} {
		in, p, rules := quarterBefore(t)
		c.row.File, c.row.Row = "c.csv", 1
		in.Corrections = []correction.Correction{c.row}
		out := Apply(in, p, nil, rules)
		if got := after(out, p); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
		var codes []string
		for _, f := range out.Findings {
			codes = append(codes, f.Rule.Code)
		}
		if got := strings.Join(codes, " "); got != c.codes {
			t.Errorf("%s: found %q, want %q", c.name, got, c.codes)
		}
		if len(out.Corrections) != map[bool]int{true: 1}[c.taken] || c.taken && out.Corrections[0].Taken != "2026Q3" {
			t.Errorf("%s: the chain keeps %+v", c.name, out.Corrections)
		}
	}
}

// TestCorrectionsTakenBefore: a row that an earlier batch applied is in its figures: it changes no
// known stand again, but still sets the finds aside that it named.
func TestCorrectionsTakenBefore(t *testing.T) {
	in, p, rules := quarterBefore(t)
	taken := []correction.Correction{{Kind: correction.Misidentified, StandID: "2026Q1-0007", Records: []string{"f1"}, Date: on(8, 1), Taken: "2026Q2"}}
	out := Apply(in, p, taken, rules)
	if got, want := after(out, p), "26Q1-0001 800 zone 200; 26Q1-0002 400 zone 100 | f2 | 26Q1-0001 26Q1-0002"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if len(out.Corrections) != 1 || out.Corrections[0].Taken != "2026Q2" {
		t.Errorf("the chain keeps %+v", out.Corrections)
	}
}

// TestFindsBesideALookAlike: the stand was seen last as patches of 11.3 m radius at 0 and 60 m. Finds 24 m
// from its edge still count, and are named; so near that it may be the same place (14.1 m), or beyond the
// join distance of 30 m, nothing is said.
func TestFindsBesideALookAlike(t *testing.T) {
	for at, want := range map[float64]string{0.08: "", 0.095: "f1", 0.105: ""} {
		in, p, rules := quarterBefore(t)
		in.Records.Listed = patches("f1", on(7, 5), at, "f2", on(7, 5), 20.0)
		in.Corrections = []correction.Correction{{Kind: correction.Misidentified, StandID: "2026Q1-0001", Date: on(8, 1), File: "c.csv", Row: 1}}
		got := ""
		for _, f := range Apply(in, p, nil, rules).Findings {
			if f.Rule.Code == "correction-finds-beside" {
				got = f.Value
			}
		}
		if got != want {
			t.Errorf("at %g km: named %q, want %q", at, got, want)
		}
	}
}
