package correction

import (
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/check"
)

// What a row is about, and what it is held against, in words; by hand.
func TestRowsInWords(t *testing.T) {
	for _, tt := range []struct {
		row            Correction
		names, against string
	}{
		{Correction{Kind: Misidentified, RecordID: "r", StandID: "s"}, "record r", "s"}, {Correction{Kind: Misidentified, StandID: "s"}, "stand s", ""}, {Correction{Kind: AbsenceWrong, StandID: "s"}, "stand s", ""},
		{Correction{Kind: SameStand, StandID: "a", OtherID: "b"}, "stand a and stand b", "b"}, {Correction{Kind: NotSameStand, RecordID: "r", OtherID: "b"}, "record r and stand b", "b"},
		{Correction{Kind: SameStand, RecordID: "r", StandID: "a"}, "record r and stand a", "a"}, {Correction{Kind: SameStand, RecordID: "r", StandID: "a", OtherID: "b"}, "record r and stand b", "b"},
	} {
		if names, against := tt.row.names(), tt.row.Against(); names != tt.names || against != tt.against {
			t.Errorf("%+v: %q against %q", tt.row, names, against)
		}
	}
	c := Correction{File: "f.csv", Row: 7, Date: day(3), Kind: SameStand, StandID: "a", OtherID: "b"}
	if got := says(&c); got != `another row, of 2026-08-03, says "same stand as" of stand a and stand b` {
		t.Error(got)
	}
	for _, tt := range []struct {
		f                  check.Finding
		code, field, value string
		words              string
	}{
		{c.Unknown("stand_id", "b"), "correction-not-found", "stand_id", "b", "no stand of this id is known here; the row was not applied"},
		{c.Unknown("occurrenceID", "r"), "correction-not-found", "occurrenceID", "r", "no record of this id is known here; the row was not applied"},
		{c.Applied("joined"), "correction-applied", "correction", "same stand as", "joined"}, {c.WithoutEffect("late"), "correction-without-effect", "correction", "same stand as", "late; the row changes nothing"},
		{c.Later("r", "2026-09-01"), "correction-record-later", "occurrenceID", "r", "the record is of 2026-09-01, later than the correction; it counts"},
		{c.Beside("S", []string{"r"}), "correction-finds-beside", "occurrenceID", "r", "1 find of this quarter lies within the join distance of stand S, but not on the ground it had in the batch before: counted, since the row withdraws only what was on that ground"},
	} {
		got := []string{tt.f.Rule.Code, tt.f.Field, tt.f.Value, tt.f.Message, tt.f.File, tt.f.Record}
		if diff := cmp.Diff([]string{tt.code, tt.field, tt.value, tt.words, "f.csv", "row 7"}, got); diff != "" {
			t.Errorf("(-want +got)\n%s", diff)
		}
	}
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "correction-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
	if len(seen) != 12 {
		t.Errorf("%d rules", len(seen))
	}
}

// Each value of a row's content tells two apart; file, row and reason do not, nor what became of it.
func TestContentByHand(t *testing.T) {
	kindOf, parts := reflect.TypeFor[Correction](), map[string]bool{"Date": true, "Kind": true, "RecordID": true, "StandID": true, "OtherID": true}
	for i := range kindOf.NumField() {
		name := kindOf.Field(i).Name
		a, b := Correction{Date: day(1)}, Correction{Date: day(1)}
		switch field := reflect.ValueOf(&b).Elem().Field(i); field.Kind() {
		case reflect.String:
			field.SetString("z")
		case reflect.Int:
			field.SetInt(5)
		case reflect.Slice:
			field.Set(reflect.ValueOf([]string{"z"}))
		default:
			b.Date = day(2)
		}
		if a.Same(&b) == parts[name] || (a.Content() == b.Content()) == parts[name] || (compareContent(&a, &b) < 0) != parts[name] || (compareContent(&b, &a) > 0) != parts[name] {
			t.Errorf("%s: the same %v, content %v", name, a.Same(&b), a.Content() == b.Content())
		}
	}
	c := Correction{Date: day(2)}
	for limit, want := range map[time.Time]bool{{}: false, day(1): true, day(2): false, day(3): false} {
		if got := c.After(limit); got != want {
			t.Errorf("after %v: %v", limit, got)
		}
	}
	// which kinds cannot both be true of one thing
	for _, a := range Kinds() {
		for _, b := range Kinds() {
			pair := func(k Kind) bool { return k == SameStand || k == NotSameStand }
			want := a != b && (a == Misidentified || b == Misidentified || pair(a) && pair(b))
			if clash(a, b) != want {
				t.Errorf("%s and %s: %v", a, b, clash(a, b))
			}
		}
	}
}
