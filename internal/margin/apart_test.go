package margin

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestErrorsMadeApart: the errors of a stand computed from its records alone, stored as bytes and
// then given their numbers among all causes, are those computed with all records at hand, to the
// last bit. Observers are numbered in the order of all records, those of the stand in another.
func TestErrorsMadeApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var records []survey.Record
		for i := range rapid.IntRange(1, 12).Draw(t, "records") {
			area := rapid.SampledFrom([]float64{0, 30, 400}).Draw(t, "area")
			r := patch(i, 9*float64(i), 0, area, rapid.SampledFrom([]string{"", "A", "B", "C"}).Draw(t, "by"))
			if r.RecordedBy() == "" {
				r.Notes = ""
			}
			records = append(records, r)
		}
		all := Survey{Records: records, Rules: stand.DefaultSettings(), Settings: DefaultSettings()}
		all.Observers = NewCauses().Of(survey.Records{Listed: records}, func(int) survey.Quarter { return q3 })
		from := rapid.IntRange(0, len(records)-1).Draw(t, "from")
		own := all
		own.Records = records[from:]
		own.Observers = ByRecord(firstOf(records)[from:])
		members := make([]int32, len(own.Records))
		for i := range members {
			members[i] = int32(i)
		}
		st := stand.Build(own.Records, members, own.Rules)
		got := own.Of(&st)
		for _, f := range got.forms() {
			throughBytes(t, f)
		}
		most := slices.Max(append(firstOf(records)[from:], 0))
		if !got.Within(int(most) + 1) {
			t.Fatalf("an observer beyond record %d", most)
		}
		got.Named(func(record int32) int32 { return all.Observers[record] })
		for i := range members {
			members[i] += int32(from)
		}
		st = stand.Build(records, members, own.Rules)
		if want := all.Of(&st); fmt.Sprint(got) != fmt.Sprint(want) {
			t.Fatalf("apart %+v, at once %+v", got, want)
		}
		if got := FirstOf(records); !slices.Equal(got, firstOf(records)) {
			t.Fatalf("first records of observers: %v, want %v", got, firstOf(records))
		}
		stands, told, err := all.Measure(2)
		if err != nil {
			t.Fatal(err)
		}
		for i := range stands {
			if want := all.Of(&stands[i]); fmt.Sprint(told[i]) != fmt.Sprint(want) {
				t.Fatalf("while measured %+v, afterwards %+v", told[i], want)
			}
		}
	})
}

// firstOf returns, by record, the first record of the same observer.
func firstOf(records []survey.Record) []int32 {
	out := make([]int32, len(records))
	for i := range records {
		out[i] = int32(slices.IndexFunc(records, func(r survey.Record) bool { return r.RecordedBy() == records[i].RecordedBy() }))
	}
	return out
}

// throughBytes stores a form and reads it again; bytes cut off within a term are refused.
func throughBytes(t *rapid.T, f *Form) {
	b, err := f.GobEncode()
	if err != nil {
		t.Fatal(err)
	}
	back := Form{own: 1, shared: []term{{7, 1}}}
	if err := back.GobDecode(b); err != nil || !reflect.DeepEqual(append(back.shared, term{}), append(f.shared, term{})) || back.own != f.own || back.shift != f.shift {
		t.Fatalf("%+v, %v, was %+v", back, err, *f)
	}
	if err := new(Form).GobDecode(b[:rapid.IntRange(0, len(b)-1).Filter(func(n int) bool { return n < bytesOfForm || (n-bytesOfForm)%bytesOfTerm > 0 }).Draw(t, "cut")]); err == nil {
		t.Fatal("a form cut off is read")
	}
	*f = back
}

// TestErrorOfARecordThatIsNotThere: by hand. Errors of the defaults are of no record.
func TestErrorOfARecordThatIsNotThere(t *testing.T) {
	of := func(cause int32) *Stand { return &Stand{Canopy: Form{shared: []term{{cause, 1}}}} }
	for cause, want := range map[int32]bool{defaultPatch: true, defaultCover: true, firstCause: true, firstCause + 1: true, firstCause + 2: false, -1: false} {
		if got := of(cause).Within(2); got != want {
			t.Errorf("error %d of two records: %v", cause, got)
		}
	}
}
