package treatable

import (
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

func day(m time.Month, d int) time.Time { return time.Date(2026, m, d, 0, 0, 0, 0, time.UTC) }

// The last quarter of 2026 under rules of every kind, computed from a calendar.
func TestWindow(t *testing.T) {
	begin, end := day(10, 1), day(12, 31)
	tests := []struct {
		name     string
		rules    []Rule
		from, to time.Time
		why      string
	}{
		{"nothing said", nil, begin, end, ""},
		{"given", []Rule{{Permission: Given}}, begin, end, ""},
		{"refused on one of two parcels", []Rule{{Permission: Given, Parcel: "a"}, {Permission: Refused, Parcel: "b"}}, begin, end, "permission refused for parcel b"},
		{"asked", []Rule{{Permission: Asked}}, begin, end, "permission asked for and not given"},
		{"expires within", []Rule{{Permission: Given, Expires: day(11, 15)}}, begin, day(11, 15), ""},
		{"expired before", []Rule{{Expires: day(9, 30)}}, begin, end, "permission expired on 2026-09-30"},
		{"months of two methods", []Rule{{Method: "spray", Months: "8-10"}, {Method: "cut stump", Months: "12"}}, begin, end, ""},
		{"months of none", []Rule{{Method: "spray", Months: "Aug-Sep"}}, begin, end, "out of the months of its methods"},
		{"one month", []Rule{{Months: "11"}}, day(11, 1), day(11, 30), ""},
		{"fish, over the turn of the year", []Rule{{ClosedFrom: "11-01", ClosedTo: "02-28", ClosedFor: "fish"}}, begin, day(10, 31), ""},
		{"closed all the time", []Rule{{ClosedFrom: "09-15", ClosedTo: "12-31", ClosedFor: "nesting"}}, begin, end, "closed season 09-15 to 12-31 for nesting"},
		{"refused, and closed at first", []Rule{{ClosedFrom: "09-15", ClosedTo: "10-31"}, {Permission: Refused}}, begin, end, "permission refused"},
		{"asked, and out of its months", []Rule{{Months: "9"}, {Permission: Asked}}, begin, end, "permission asked for and not given"},
		{"season and months leave nothing", []Rule{{Months: "12"}, {ClosedFrom: "12-01", ClosedTo: "12-31"}}, begin, end, "out of the months of its methods"},
	}
	for _, tt := range tests {
		for i := range tt.rules {
			tt.rules[i].StandID, tt.rules[i].Factor = "s", math.NaN()
		}
		rules, findings := Check(tt.rules, Options{})
		if len(findings) > 0 {
			t.Errorf("%s: %v", tt.name, findings)
		}
		if from, to, why := Window(rules, begin, end); !from.Equal(tt.from) || !to.Equal(tt.to) || why != tt.why {
			t.Errorf("%s: %s to %s, %q; want %s to %s, %q", tt.name, from, to, why, tt.from, tt.to, tt.why)
		}
	}
}

// Rows that cannot be used are reported with their code; copies of a row are left out.
func TestCheck(t *testing.T) {
	nan := math.NaN()
	rows := []Rule{
		{Row: 1, Factor: nan}, {Row: 2, StandID: "a", Permission: "maybe", Factor: nan}, {Row: 3, StandID: "a", Months: "13", Factor: nan},
		{Row: 4, StandID: "a", ClosedFrom: "03-01", Factor: nan}, {Row: 5, Parcel: "p", Factor: -2}, {Row: 6, StandID: "b", Factor: 2}, {Row: 7, StandID: "b", Factor: 2},
	}
	kept, findings := Check(rows, Options{})
	var codes []string
	for _, f := range findings {
		codes = append(codes, f.Rule.Code)
	}
	want := []string{"treatable-without-subject", "treatable-permission-unknown", "treatable-months-unreadable", "treatable-season-unreadable", "treatable-factor-not-positive", "treatable-duplicate"}
	if diff := cmp.Diff(want, codes); diff != "" {
		t.Errorf("findings (-want +got):\n%s", diff)
	}
	if _, _, why := Window(kept[1:2], day(10, 1), day(12, 31)); why == "" {
		t.Error("a row that cannot be read forbids nothing")
	}
	if len(kept) != 5 || kept[0].Factor != 1 || kept[4].Factor != 2 {
		t.Errorf("kept %+v", kept)
	}
}
