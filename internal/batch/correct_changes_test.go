package batch

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// sightAt is a record 3 m beside the first stream of the chain: a find of so many square
// metres, or none found where there are 0.
func sightAt(id string, y, area float64, status survey.Status) survey.Record {
	return survey.Record{
		ID: id, Position: chainFrame.Inverse(orb.Point{3, y}), Detected: area > 0, Status: status, Uncertainty: 1,
		Cover: 50, StemHeight: geo.Meters(math.NaN()), PatchArea: geo.SquareMeters(area), Notes: "",
	}
}

// chapter is one quarter of a story: what was seen, and what was found out.
type chapter struct {
	seen      []survey.Record
	corrected []correction.Correction
}

// tell runs a story through real folders and returns its history and the last run. A
// stand named by a correction as "of ID" is the one that held the record of that id in the
// batch before.
func tell(t interface{ Fatal(...any) }, top string, story []chapter) (*trend.History, *result.Run) {
	var run *result.Run
	last, q := "", survey.Quarter{Year: 2026, Number: 1}
	for _, quarter := range story {
		in := observed.Quarter{Quarter: q, Centerlines: chainStreams, Records: survey.Records{Listed: slices.Clone(quarter.seen)}}
		slices.SortFunc(in.Records.Listed, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
		for i, c := range quarter.corrected {
			c.File, c.Row, c.Date = "corrections.csv", i+1, q.End()
			for _, id := range []*string{&c.StandID, &c.OtherID} {
				if record, of := strings.CutPrefix(*id, "of "); of {
					*id = standOf(run, record)
				}
			}
			in.Corrections = append(in.Corrections, c)
		}
		l := link{in: in, dir: filepath.Join(top, q.String())}
		run = l.deliver(t, last, 1)
		summary, err := os.ReadFile(filepath.Join(l.dir, "summary.csv"))
		if err != nil {
			t.Fatal(err)
		}
		read, err := trend.ReadSummary(bytes.NewReader(summary), q)
		if diff := cmp.Diff(read, result.HistoryBatch(run), cmpopts.EquateEmpty()); err != nil || diff != "" {
			t.Fatal(err, diff)
		}
		last, q = l.dir, q.Next()
	}
	h, err := historyOf(run, trend.DefaultRules())
	if err != nil {
		t.Fatal(err)
	}
	return h, run
}

// standOf returns the stand of a run that holds a record, or that stood where it was and
// was not detected: the story's only one.
func standOf(run *result.Run, record string) string {
	for i := range run.Records.Listed {
		if run.Records.Listed[i].ID == record && run.StandOf[i] >= 0 {
			return run.Stands[run.StandOf[i]].ID
		}
	}
	if len(run.Absent) == 1 {
		return run.Absent[0].ID
	}
	return "none"
}

func misidentified(stand string) correction.Correction {
	return correction.Correction{Kind: correction.Misidentified, StandID: stand}
}

// alikeStory is a story with the chained live acres that it must give.
type alikeStory struct {
	name  string
	story []chapter
	want  string // live acres in total: a, or - for blank
	acres float64
	says  string
}

// In every story a stand A of 400 m2 beside the first stream never changes. Every other stand was a
// look-alike, was there all the time, or is A under a second name. The chained acres must be those of
// A in every quarter, and blank where they cannot be known. 400 m2 are 0.09884 acres.
func alikeStories() []alikeStory {
	const ground = 0 // somebody looked there and found nothing
	a := sightAt("a", 400, 400, survey.Untreated)
	at := func(y, area float64) survey.Record { return sightAt("l", y, area, survey.Untreated) }
	const all, left = "a a a a", "a a a a"
	return []alikeStory{
		{"new in the second quarter", []chapter{
			{seen: []survey.Record{a, at(0, ground)}}, {seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, 350)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{misidentified("of l")}},
		}, all, 400, "what corrections took back of stand 2026Q2-0001 is left out"},
		{"there from the first quarter, and growing", []chapter{
			{seen: []survey.Record{a, at(0, 100)}}, {seen: []survey.Record{a, at(0, 200)}}, {seen: []survey.Record{a, at(0, 350)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{misidentified("of l")}},
		}, left, 400, ""},
		{"treated, and so no longer live", []chapter{
			{seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, sightAt("l", 0, 300, survey.Treated)}}, {seen: []survey.Record{a}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{misidentified("of l")}},
		}, left, 400, ""},
		{"not detected before it was withdrawn", []chapter{
			{seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, ground)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{misidentified("of l")}},
		}, left, 400, ""},
		{"two that merged", []chapter{
			{seen: []survey.Record{a, at(0, ground), sightAt("m", 40, ground, 0)}},
			{seen: []survey.Record{a, at(0, 300), sightAt("m", 40, 250, 0)}},
			{seen: []survey.Record{a, sightAt("l", 20, 2500, 0)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{misidentified("of l")}},
		}, left, 400, ""},
		{"told not detected by mistake", []chapter{
			{seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, ground)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{{Kind: correction.AbsenceWrong, StandID: "of l"}}},
		}, all, 700, ""},
		{"one stand under two names", []chapter{
			{seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, 300)}}, {seen: []survey.Record{a, at(0, 300)}},
			{seen: []survey.Record{a, at(0, 300)}, corrected: []correction.Correction{{Kind: correction.SameStand, StandID: "of l", OtherID: "of a"}}},
		}, all, 700, ""},
		{"two stands under one name", []chapter{
			{seen: []survey.Record{a, at(380, 300)}}, {seen: []survey.Record{a, at(380, 300)}}, {seen: []survey.Record{a, at(380, 300)}},
			{seen: []survey.Record{a, at(380, 300)}, corrected: []correction.Correction{{Kind: correction.NotSameStand, RecordID: "l", StandID: "of a"}}},
		}, all, 700, ""},
		{"merged with A, and taken out of it", []chapter{
			{seen: []survey.Record{a, at(360, ground)}}, {seen: []survey.Record{a, at(360, 300), sightAt("l2", 380, 50, 0)}},
			{seen: []survey.Record{a, at(360, 300), sightAt("l2", 380, 200, 0)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{{Kind: correction.Misidentified, RecordID: "l"}, {Kind: correction.Misidentified, RecordID: "l2"}}},
		}, "- - a a", 400, "since 2026Q3, because corrections took back changes of stand 2026Q1-0001 that cannot be told from other changes up to then"},
		{"part of A that never changed", []chapter{
			{seen: []survey.Record{a, at(380, 300)}}, {seen: []survey.Record{a, at(380, 300)}}, {seen: []survey.Record{a, at(380, 300)}},
			{seen: []survey.Record{a}, corrected: []correction.Correction{{Kind: correction.Misidentified, RecordID: "l"}}},
		}, all, 400, ""},
	}
}

func TestLookAlikesAreNoTrend(t *testing.T) {
	for _, c := range alikeStories() {
		t.Run(c.name, func(t *testing.T) {
			h, run := tell(t, t.TempDir(), c.story)
			for _, f := range run.Findings {
				if strings.HasPrefix(f.Rule.Code, "correction-") && f.Rule.Code != "correction-applied" {
					t.Errorf("%s: %s", f.Rule.Code, f.Message)
				}
			}
			for i := range h.Sections {
				if scope := h.Sections[i].Scope; scope != "total" && h.Sections[i].Name != "Long Water" {
					continue
				}
				for _, m := range []trend.Measure{trend.Live, trend.Infested} {
					var got []string
					for _, v := range h.Chain(i, m) {
						switch acres := geo.SquareMeters(c.acres).Acres(); {
						case v == trend.Blank:
							got = append(got, "-")
						case math.Abs(float64(v)/trend.PerUnit-float64(acres)) < 2e-4:
							got = append(got, "a")
						default:
							got = append(got, fmt.Sprint(float64(v)/trend.PerUnit))
						}
					}
					if strings.Join(got, " ") != c.want {
						t.Errorf("%s %s: %s, want %s of %.4f", h.Sections[i].Scope, m.Column(), strings.Join(got, " "), c.want, c.acres/4046.8564224)
					}
					one := h.Trend(i, m)
					if one.Direction != trend.TooFew || !strings.Contains(one.Words()+one.Grounds(), c.says) {
						t.Errorf("%s: %s; %s", m.Column(), one.Words(), one.Grounds())
					}
				}
			}
		})
	}
}

// A chain in which stands of a look-alike far from the others come, grow, merge, are
// treated and not detected at random, and all of them are withdrawn in the last quarter,
// has the chained acres of the same chain without any of their records, in every quarter
// (but before the last in which one had split);
// and what stands counted adds up to what the summary told of each row and quarter.
func TestChainWithAndWithoutALookAlike(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		top, err := os.MkdirTemp(scratch(), "alike")
		if err != nil {
			t.Fatal(err)
		}
		defer os.RemoveAll(top)
		quarters := rapid.IntRange(3, 4).Draw(t, "quarters")
		var with, without [2]string
		var runs [2]*result.Run
		q := survey.Quarter{Year: 2026, Number: 1}
		sums := map[string]int64{}
		for n := range quarters {
			in := drawQuarter(t, q)
			in.Records.Listed = in.Records.Listed[:min(4, len(in.Records.Listed))]
			in.SurveyedGiven, in.Surveyed = false, nil
			alike := in
			alike.Records.Listed = slices.Clone(in.Records.Listed)
			if n < quarters-1 {
				for k := range rapid.IntRange(0, 3).Draw(t, "look-alikes") {
					r := sightAt(fmt.Sprintf("z%d", k), 0, float64(rapid.IntRange(0, 900).Draw(t, "m2")), survey.Status(rapid.IntRange(0, 3).Draw(t, "is")))
					r.Position = chainFrame.Inverse(orb.Point{2000 + 10*float64(rapid.IntRange(0, 12).Draw(t, "at")), 0})
					alike.Records.Listed = append(alike.Records.Listed, r)
				}
			} else if runs[0] != nil {
				alike.Corrections = withdrawAll(runs[0], q)
			}
			for k, one := range []observed.Quarter{alike, in} {
				last := [2]string{with[0], without[0]}[k]
				dir := filepath.Join(top, fmt.Sprint(k, q))
				runs[k] = link{in: one, dir: dir}.deliver(t, last, 1)
				*[2]*string{&with[0], &without[0]}[k] = dir
			}
			mustCount(t, runs[0], sums)
			q = q.Next()
		}
		var chains [2][]int64
		for k, run := range runs {
			h, err := historyOf(run, trend.DefaultRules())
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range trend.Measures() {
				if m.Chained() {
					chains[k] = append(chains[k], h.Chain(0, m)...)
				}
			}
		}
		split := slices.ContainsFunc(result.TakenBack(runs[0].LookChanges), func(c result.LookChange) bool { return c.Shared })
		for i, v := range chains[0] {
			if v == trend.Blank && split {
				continue
			}
			if d := v - chains[1][i]; d < -40*trend.PerUnit/10000 || d > 40*trend.PerUnit/10000 {
				t.Fatalf("value %d of the chains: %d with look-alikes and %d without", i, v, chains[1][i])
			}
		}
	})
}

// withdrawAll withdraws every stand that a run knows at the look-alikes' place.
func withdrawAll(run *result.Run, q survey.Quarter) []correction.Correction {
	var out []correction.Correction
	add := func(id string, at orb.Point) {
		if chainFrame.Forward(at)[0] > 1500 {
			out = append(out, correction.Correction{File: "c.csv", Row: len(out) + 1, Kind: correction.Misidentified, StandID: id, Date: q.End()})
		}
	}
	for i := range run.Stands {
		add(run.Stands[i].ID, run.Stands[i].Center)
	}
	for i := range run.Absent {
		add(run.Absent[i].ID, run.Absent[i].Center)
	}
	return out
}

// mustCount compares what stands counted in each quarter with the changes that its summary printed.
// Corrections may take counts back, and merged stands may hand them on.
func mustCount(t *rapid.T, run *result.Run, sums map[string]int64) {
	if run.Previous == nil {
		return
	}
	key := func(quarter, scope, name string) string { return quarter + " " + scope + " " + name }
	for _, s := range result.Summarize(run)[1:] {
		sums[key(s.Quarter, string(s.Scope), s.Name)] = s.Since.Infested()
	}
	got := map[string]int64{}
	for i := range run.LookChanges {
		c := &run.LookChanges[i]
		got[key(c.Quarter.String(), string(c.Scope), c.Name)] += c.Grains()[1]
	}
	for at, want := range sums {
		if d := got[at] - want; d < -2e6 || d > 2e6 {
			t.Fatalf("%s: stands counted %d grains, and the summary %d", at, got[at], want)
		}
	}
}
