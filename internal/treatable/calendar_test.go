package treatable

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"driftreach/internal/check"
)

// read is the rules as Check makes them, each for the stand s.
func read(t *rapid.T, rules ...Rule) []Rule {
	for i := range rules {
		rules[i].StandID, rules[i].Factor, rules[i].Row = "s", math.NaN(), i+1
	}
	kept, findings := Check(rules, Options{})
	if check.Count(findings, check.Error)+check.Count(findings, check.Warning) > 0 {
		t.Fatalf("%v", findings)
	}
	return kept
}

// For any rules the window runs from the first open day to the last, by asking each day in turn: of
// its month's number, of a season written as months and days that compare as texts, and of the last day
// of each permission.
func TestWindowByAskingEachDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		monthDays := rapid.Custom(func(t *rapid.T) string {
			return time.Date(2024, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 365).Draw(t, "day")).Format("01-02")
		})
		rules := make([]Rule, rapid.IntRange(0, 4).Draw(t, "rules"))
		months := make([]map[int]bool, len(rules))
		for i := range rules {
			switch rapid.IntRange(0, 3).Draw(t, "says") {
			case 0:
				from, n := rapid.IntRange(1, 12).Draw(t, "from"), rapid.IntRange(0, 11).Draw(t, "more")
				rules[i].Months, months[i] = fmt.Sprintf("%d-%d", from, (from+n-1)%12+1), map[int]bool{}
				for m := from; m <= from+n; m++ {
					months[i][(m-1)%12+1] = true
				}
			case 1:
				rules[i].ClosedFrom, rules[i].ClosedTo = monthDays.Draw(t, "closed from"), monthDays.Draw(t, "closed to")
			case 2:
				rules[i].Expires = day(9, 1).AddDate(0, 0, rapid.IntRange(0, 180).Draw(t, "expires"))
			default:
				rules[i].Permission = rapid.SampledFrom([]Permission{Given, Given, Given, Asked, Refused}).Draw(t, "permission")
			}
		}
		open := func(d time.Time) bool {
			byMonth, in := false, false
			for i, r := range rules {
				at := d.Format("01-02")
				closed := r.ClosedFrom != "" && at >= r.ClosedFrom && at <= r.ClosedTo
				if r.ClosedFrom > r.ClosedTo { // over the turn of the year
					closed = at >= r.ClosedFrom || at <= r.ClosedTo
				}
				if closed || r.Permission == Asked || r.Permission == Refused || !r.Expires.IsZero() && d.After(r.Expires) {
					return false
				}
				if months[i] != nil {
					byMonth, in = true, in || months[i][int(d.Month())]
				}
			}
			return in || !byMonth
		}
		begin, end := day(10, 1), day(12, 31)
		var first, last time.Time
		for d := begin; !d.After(end); d = d.AddDate(0, 0, 1) {
			if open(d) {
				if last = d; first.IsZero() {
					first = d
				}
			}
		}
		from, to, why := Window(read(t, append([]Rule(nil), rules...)...), begin, end)
		if first.IsZero() {
			first, last = begin, end
			if why == "" {
				t.Errorf("%+v leaves no day, and no reason is given", rules)
			}
		} else if why != "" {
			t.Errorf("%+v leaves %v to %v, and yet: %s", rules, first, last, why)
		}
		if !from.Equal(first) || !to.Equal(last) {
			t.Errorf("%+v: %v to %v, want %v to %v", rules, from, to, first, last)
		}
	})
}

// Months as people write them; by hand.
func TestMonthsByHand(t *testing.T) {
	for text, want := range map[string]string{
		"9-11": "9 10 11", "11-2": "1 2 11 12", "9,10": "9 10", "3; 5": "3 5", "Sep-Nov": "9 10 11", "december": "12", "jun, JULY": "6 7", "1-12": "1 2 3 4 5 6 7 8 9 10 11 12", "12-1": "1 12", "5-5": "5", "": "",
		"0": "unreadable", "13": "unreadable", "1-13": "unreadable", "ma": "unreadable", "mayx": "unreadable", "9-": "unreadable", "-9": "unreadable",
	} {
		r := Rule{Months: text}
		got := "unreadable"
		if r.readMonths() {
			var months []string
			for m, in := range r.months {
				if in {
					months = append(months, fmt.Sprint(m))
				}
			}
			got = strings.Join(months, " ")
		}
		if got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]monthDay{"03-01": {3, 1}, "02-29": {2, 29}, "2026-12-31": {12, 31}, " 08-15 ": {8, 15}, "02-30": {}, "3-1": {}, "13-01": {}, "": {}, "2026-02-29": {}} {
		if got, ok := readMonthDay(text); got != want || ok != (want != monthDay{}) {
			t.Errorf("%q: %v, %v", text, got, ok)
		}
	}
}

// Each reason by hand, the first that holds on the first day; a row that cannot be read forbids all.
func TestReasonsByHand(t *testing.T) {
	for _, tt := range []struct {
		name string
		rule Rule
		want string
	}{
		{"refused for a parcel", Rule{Permission: Refused, Parcel: "p"}, "permission refused for parcel p"},
		{"asked for a parcel", Rule{Permission: Asked, Parcel: "p"}, "permission asked for and not given for parcel p"},
		{"expired for a parcel", Rule{Expires: day(9, 30), Parcel: "p"}, "permission expired on 2026-09-30 for parcel p"},
		{"closed for nothing named", Rule{ClosedFrom: "01-01", ClosedTo: "12-31"}, "closed season 01-01 to 12-31"},
		{"months that cannot be read", Rule{Months: "spring"}, "its months cannot be read"},
		{"a season without an end, of a parcel", Rule{ClosedFrom: "01-01", Parcel: "p"}, "its closed_to cannot be read for parcel p"},
		{"a season without a beginning", Rule{ClosedTo: "01-01"}, "its closed_from cannot be read"},
		{"a word", Rule{Permission: "perhaps"}, "its permission cannot be read"},
	} {
		tt.rule.StandID, tt.rule.Factor = "s", math.NaN()
		kept, _ := Check([]Rule{tt.rule}, Options{})
		if from, to, why := Window(kept, day(10, 1), day(12, 31)); why != tt.want || !from.Equal(day(10, 1)) || !to.Equal(day(12, 31)) {
			t.Errorf("%s: %s", tt.name, why)
		}
	}
	// open for a day in the middle, closed before and after
	two := []Rule{{StandID: "s", Factor: math.NaN(), ClosedFrom: "10-01", ClosedTo: "11-14"}, {StandID: "s", Factor: math.NaN(), Expires: day(11, 15)}}
	kept, _ := Check(two, Options{})
	if from, to, why := Window(kept, day(10, 1), day(12, 31)); why != "" || !from.Equal(day(11, 15)) || !to.Equal(day(11, 15)) {
		t.Errorf("%v to %v, %s", from, to, why)
	}
}

// Every value counts when copies are looked for, but for file and row; factors above 0 stay.
func TestEveryValueTellsRowsApart(t *testing.T) {
	kindOf := reflect.TypeFor[Rule]()
	for i := range kindOf.NumField() {
		name := kindOf.Field(i).Name
		if !kindOf.Field(i).IsExported() {
			continue
		}
		a, b := Rule{StandID: "s", Factor: 1}, Rule{StandID: "s", Factor: 1}
		switch field := reflect.ValueOf(&b).Elem().Field(i); field.Kind() {
		case reflect.String:
			field.SetString("t")
		case reflect.Int:
			field.SetInt(7)
		case reflect.Float64:
			field.SetFloat(2)
		default:
			b.Expires = day(1, 1)
		}
		want := -1
		if name == "File" || name == "Row" {
			want = 0
		}
		if got, back := kind.Compare(&a, &b), kind.Compare(&b, &a); got != want || back != -want {
			t.Errorf("%s: %d and %d", name, got, back)
		}
	}
	for factor, want := range map[float64]float64{0: 1, -1: 1, 1e-9: 1e-9, 3: 3} {
		kept, findings := Check([]Rule{{StandID: "s", Factor: factor}}, Options{})
		if kept[0].Factor != want || (len(findings) > 0) != (factor <= 0) {
			t.Errorf("factor %g: %g, %v", factor, kept[0].Factor, findings)
		}
	}
}

// What names no stand is told by its stand or its parcel, with the file and row.
func TestUnknownByHand(t *testing.T) {
	a, b := Rule{File: "f.csv", Row: 4, StandID: "s", Parcel: "p"}, Rule{File: "f.csv", Row: 5, Parcel: "p"}
	one, two := a.Unknown(), b.Unknown()
	got := []string{one.Field, one.Value, one.Rule.Code, one.Record, two.Field, two.Value, two.Record}
	if diff := cmp.Diff([]string{"stand_id", "s", "treatable-not-found", "row 4", "parcel", "p", "row 5"}, got); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
	seen := map[string]bool{}
	for _, r := range Rules() {
		if seen[r.Code] || r.Remedy == "" || !strings.HasPrefix(r.Code, "treatable-") {
			t.Errorf("%+v", r)
		}
		seen[r.Code] = true
	}
	if len(seen) != 7 || len(Permissions()) != 3 {
		t.Errorf("%d rules, %d permissions", len(seen), len(Permissions()))
	}
}
