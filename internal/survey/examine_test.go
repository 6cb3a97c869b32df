package survey

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/check"
)

// Records that come in blocks are those that come at once, with the same findings, the same set aside and
// the same counts by quarter: copies, looks at one plant, ids that are missing in part and throughout,
// records of the quarter before and after, coarse positions and two crews, with so few findings of one
// kind that they are summed up, and so many.
func TestBlocksAreAtOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records := append(some(t, "", "a", "b", "b~2", "c"), some(t, "", "", "c", "d")...)
		for i := range records {
			r := &records[i]
			r.Row = i + 1
			switch rapid.IntRange(0, 9).Draw(t, "how") {
			case 0:
				r.Begin, r.End = r.Begin-200, r.End-200
			case 1:
				r.Begin, r.End = r.Begin+200, r.End+200
			case 2:
				r.Position[0], r.Position[1] = 10.0004, 0
			case 3:
				r.Position[0], r.Position[1] = 10, 0
			case 4:
				r.Cover = 200
			case 5:
				r.Position[0] = 1000
			case 6, 7:
				if i > 0 {
					*r = records[i-1]
					r.Row += rapid.IntRange(0, 1).Draw(t, "row")
				}
			}
		}
		o := DefaultOptions(q3)
		o.JoinDistance, o.FindingLimit = 50, rapid.IntRange(1, 5).Draw(t, "limit")
		want := Examine(slices.Clone(records), o)

		e := NewExaminer(o)
		half := rapid.IntRange(0, len(records)).Draw(t, "half")
		e.Meet(records[:half])
		e.Meet(records[half:])
		e = e.Again()
		name := func(r *Record) string {
			if r.ID == "" {
				return check.MadeID(r.File, r.Row)
			}
			return strings.TrimSuffix(r.ID, "~2")
		}
		slices.SortStableFunc(records, func(a, b Record) int { return strings.Compare(name(&a), name(&b)) })
		var got []Record
		for from := 0; from < len(records); {
			to := min(from+rapid.IntRange(1, 5).Draw(t, "block"), len(records))
			for to < len(records) && name(&records[to]) == name(&records[to-1]) {
				to++
			}
			got = append(got, e.Block(slices.Clone(records[from:to]))...)
			from = to
		}
		slices.SortStableFunc(got, func(a, b Record) int { return strings.Compare(a.ID, b.ID) })
		for i := range got {
			e.Next(&got[i])
		}
		aside := 0
		for _, a := range want.Aside {
			aside += a.Records
		}
		if e.Aside() != aside {
			t.Errorf("%d set aside, want %d", e.Aside(), aside)
		}
		done := e.End(func(i int) *Record { return &got[i] })
		if ids(got) != ids(want.Records) {
			t.Errorf("%s, at once %s", ids(got), ids(want.Records))
		}
		if !reflect.DeepEqual(done.Findings, want.Findings) {
			t.Errorf("%v\nat once\n%v", done.Findings, want.Findings)
		}
		if !reflect.DeepEqual(done.Aside, want.Aside) || !reflect.DeepEqual(done.Quarters, want.Quarters) {
			t.Errorf("%v %v, at once %v %v", done.Aside, done.Quarters, want.Aside, want.Quarters)
		}
	})
}

// Records that are checked against the streams one by one are those that are checked together.
func TestSitesOneByOne(t *testing.T) {
	s := alongStream()
	records := []Record{at("a", 1, -118, 34), at("b", 2, 118, 34), at("c", 3, -118, 35), at("d", 4, -118, -34), at("e", 5, -118, 34.01)}
	c := NewSiteChecker(s)
	var got []string
	for i := range records {
		if c.Accept(&records[i]) {
			got = append(got, records[i].ID)
		}
	}
	kept, findings := CheckSites(records, s)
	if strings.Join(got, " ") != ids(kept) || ids(kept) != "a c e" || len(findings) != 3 || !reflect.DeepEqual(c.Findings(), findings) {
		t.Errorf("%v with %v, want %s with %v", got, c.Findings(), ids(kept), findings)
	}
}
