package learn

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/followup"
)

// Why a second look does not count, by hand: a stream of ten stretches of 100 m of which all are drawn,
// or one.
func TestAsideByHand(t *testing.T) {
	c := creek(t)
	c.add(t, 2026, 1, nil, 1)
	c.add(t, 2026, 2, nil, 1)
	here := orb.Point{10, -36.0045}
	all, none := [][]bool{{true}, {true}}, [][]bool{{true}, {false}}
	for _, tt := range []struct {
		name          string
		at            orb.Point
		first, second string
		knew          bool
		drawn         [][]bool
		want          string
	}{
		{"counts", here, "2026-07-01", "2026-10-01", false, all, ""},
		{"92 days before", here, "2026-10-01", "2026-07-01", false, all, ""},
		{"93 days", here, "2026-07-01", "2026-10-02", false, all, asideSeason},
		{"93 days before", here, "2026-10-02", "2026-07-01", false, all, asideSeason},
		{"knew", here, "2026-07-01", "2027-10-01", true, all, asideKnew},
		{"in the quarter of the first batch", here, "2026-03-31", "2026-04-02", false, all, asideEarly},
		{"in the quarter after it", here, "2026-04-01", "2026-04-02", false, none, ""},
		{"not drawn by the last batch before", here, "2026-07-01", "2026-07-02", false, none, asideRandom},
		{"249 m off", orb.Point{10 + 249/90164.0, -36.0045}, "2026-07-01", "2026-07-02", false, all, ""},
		{"251 m off", orb.Point{10 + 251/90164.0, -36.0045}, "2026-07-01", "2026-07-02", false, all, asideWater},
	} {
		one := SecondLook{At: tt.at, Days: [2]time.Time{on(tt.first), on(tt.second)}, Knew: tt.knew}
		if got := c.aside(one, tt.drawn); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.name, got, tt.want)
		}
	}
	one := SecondLook{At: here, Days: [2]time.Time{on("2026-07-01"), on("2026-07-02")}, Found: [2]bool{true, true}, Size: geo.SquareMeters(math.NaN()), HoursPerKm: [2]float64{math.NaN(), 1}}
	knew := one
	knew.Knew = true
	f := c.found([]SecondLook{knew, one, knew}, DefaultOptions()) // the creek's only stretch is always drawn
	if f.Used != 1 || f.Aside[asideKnew] != 2 || len(f.Aside) != 1 || f.Groups[0].Places != 1 {
		t.Errorf("%+v", f)
	}
}

// Groups by hand: both, the first or the other look found. Where the other found, each is a trial of
// its own effort: a quick look found 1 of 2, a slow one 2 of 3.
func TestGroupsOfLooksByHand(t *testing.T) {
	nan := math.NaN()
	look := func(first, other bool, size, h1, h2 float64) SecondLook {
		return SecondLook{Found: [2]bool{first, other}, Size: geo.SquareMeters(size), HoursPerKm: [2]float64{h1, h2}}
	}
	var f Found
	f.group([]SecondLook{
		look(true, true, 0.5, 0.5, 1), look(true, false, 1, 2, 0.99), look(false, true, 9.9, 1, nan), look(true, true, 10, 3, nan), look(false, true, nan, nan, nan),
	})
	var got []string
	for _, g := range f.Groups {
		got = append(got, fmt.Sprintf("%s %s: %d, %.4f", g.By, g.Of, g.Places, g.Find.Value))
	}
	want := []string{
		"all : 5, 0.5714", // 2 x 2 of 7
		"size below 1 m2: 1, 1.0000", "size 1 to 10 m2: 2, 0.0000", "size 10 m2 or more: 1, 1.0000", "size size not known: 1, 0.0000",
		"effort below 1 hour for each km: 2, 0.5000", "effort 1 hour or more for each km: 3, 0.6667", "effort effort not known: 2, 0.5000",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("groups (-want +got):\n%s", diff)
	}
	// the first place is a trial of both looks and still one place
	if g := f.Groups[6]; math.Abs(g.Find.High-estimate.WilsonShare(2.0/3, 3).High) > 1e-12 {
		t.Errorf("%+v", g)
	}
}

// Clear looks by hand: in a row, from the last find on; nobody's visit does not end the row. Where a
// look finds 0.8, two of them leave 1/26 of what was as likely as not: 25/26 that nothing is left.
func TestClearStandsByHand(t *testing.T) {
	c := creek(t)
	for q := range 4 {
		b := c.add(t, 2026, q+1, nil, 1)
		for id, looks := range map[string][4]followup.Look{
			"two":   {followup.Found, followup.NotFound, followup.Nobody, followup.NotFound},
			"one":   {followup.NotFound, followup.NotFound, followup.Found, followup.NotFound},
			"found": {followup.NotFound, followup.NotFound, followup.NotFound, followup.Found},
			"never": {followup.Nobody, followup.Nobody, followup.Nobody, followup.Nobody},
		} {
			b.Followup = append(b.Followup, followup.Row{StandID: id, Look: looks[q], Present: id == "found", Clear: followup.Clear{Years: q, Since: on("2026-05-01")}})
		}
	}
	c.Batches[3].Followup = append(c.Batches[3].Followup, followup.Row{StandID: "here", Look: followup.NotFound, Present: true})
	o := DefaultOptions()
	f := Found{Used: leastPlaces, Groups: []FindOf{{Find: estimate.Interval{Value: 0.8, Low: 0.5, High: 1}}}}
	f.clear(c, o)
	// 5/6, 25/26: two looks for 0.95; at a half 16/17 is too little and 32/33 enough
	if f.Looks != 2 || f.Safe != 5 {
		t.Errorf("%d looks, and %d", f.Looks, f.Safe)
	}
	if len(f.Clear) != 2 || f.Clear[0].StandID != "one" || f.Clear[0].Looks != 1 || f.Clear[1].StandID != "two" || f.Clear[1].Looks != 2 || f.Clear[1].Years != 3 || !f.Clear[1].Since.Equal(on("2026-05-01")) {
		t.Fatalf("%+v", f.Clear)
	}
	two := f.Clear[1].Absent
	for _, pair := range [][2]float64{{two.Value, 25.0 / 26}, {two.Low, 0.8}, {two.High, 1}, {f.absent(1).Value, 5.0 / 6}} {
		if math.Abs(pair[0]-pair[1]) > 1e-9 {
			t.Errorf("%g, want %g", pair[0], pair[1])
		}
	}
	if f.absent(7).Known() {
		t.Error("no stand has seven clear looks")
	}
	few := Found{Used: leastPlaces - 1, Groups: f.Groups}
	if few.clear(c, o); few.Looks != 0 || few.Clear[1].Absent.Known() || few.Clear[1].Looks != 2 {
		t.Errorf("nine places: %+v", few)
	}
	if got := f.looksWords(o); got != "2 clear looks in a row make it at least 95 % likely that nothing is left, and 5 if a look finds as little as the lower bound." {
		t.Error(got)
	}
	f.Looks, f.Safe = 1, 1
	if got := f.looksWords(o); got != "1 clear look makes it at least 95 % likely that nothing is left." {
		t.Error(got)
	}
	if f.Looks = 0; f.looksWords(o) != "" {
		t.Error("words of no number")
	}
}

// Rows at the limits are read, and those past them named with what is accepted.
func TestSecondLooksAtTheLimits(t *testing.T) {
	head := "second_found,first_found,second_date,first_date,decimallatitude, DecimalLongitude ,second_knew,first_hours_per_km,second_hours_per_km\n"
	got, err := ReadSecondLooks(strings.NewReader(head + "no,YES,2026-07-28,2026-07-14,-85,180,1,0,10000\nfalse,true,2026-07-28,2026-07-14,85,-180,,,0.5\n1,0,2026-07-28,2026-07-14,85,-180,no,,\n"))
	if err != nil {
		t.Fatal(err)
	}
	nan := math.NaN()
	day := [2]time.Time{on("2026-07-14"), on("2026-07-28")}
	want := []SecondLook{
		{At: orb.Point{180, -85}, Days: day, Found: [2]bool{true, false}, Knew: true, Size: geo.SquareMeters(nan), HoursPerKm: [2]float64{0, 10000}, Row: 2},
		{At: orb.Point{-180, 85}, Days: day, Found: [2]bool{true, false}, Size: geo.SquareMeters(nan), HoursPerKm: [2]float64{nan, 0.5}, Row: 3},
		{At: orb.Point{-180, 85}, Days: day, Found: [2]bool{false, true}, Size: geo.SquareMeters(nan), HoursPerKm: [2]float64{nan, nan}, Row: 4},
	}
	if diff := cmp.Diff(fmt.Sprintf("%+v", want), fmt.Sprintf("%+v", got)); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	row := "no,yes,2026-07-28,2026-07-14,%s,%s,%s,%s,1\n"
	for says, cells := range map[string][]any{
		"decimalLatitude: \"85.1\" is not a number from -85 to 85":         {"85.1", "1", "", ""},
		"decimalLongitude: \"-180.1\" is not a number from -180 to 180":    {"85", "-180.1", "", ""},
		"second_knew: \"perhaps\" is neither yes nor no":                   {"85", "1", "perhaps", ""},
		"first_hours_per_km: \"10001\" is not a number from 0 to 10000":    {"85", "1", "", "10001"},
		"decimalLatitude: \"\" is not a number":                            {"", "1", "", ""},
		"line 2: decimalLongitude: \"x\" is not a number from -180 to 180": {"1", "x", "", ""},
	} {
		if _, err := ReadSecondLooks(strings.NewReader(head + fmt.Sprintf(row, cells...))); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%v: %v, want %s", cells, err, says)
		}
	}
	if _, err := ReadSecondLooks(strings.NewReader(head + "\"")); err == nil {
		t.Error("a quote without an end is read")
	}
}
