package survey

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
)

// some draws records along a few metres of a road, some finds and some absences, by two observers.
func some(t *rapid.T, ids ...string) []Record {
	records := make([]Record, rapid.IntRange(0, 9).Draw(t, "records"))
	for i := range records {
		r := at(fmt.Sprintf("r%02d", i), i+1, 10+float64(rapid.IntRange(0, 60).Draw(t, "metres"))/111320, 0.00001)
		if len(ids) > 0 {
			r.ID = rapid.SampledFrom(ids).Draw(t, "id")
		}
		r.File = rapid.SampledFrom([]string{"f.csv", "g.csv"}).Draw(t, "file")
		r.Begin = DayOf(q3.Begin()) + Day(rapid.IntRange(0, 5).Draw(t, "day"))
		r.End = r.Begin + Day(rapid.IntRange(0, 1).Draw(t, "days"))
		if rapid.IntRange(0, 9).Draw(t, "no day") == 0 {
			r.Begin, r.End = 0, 0
		}
		r.Detected = rapid.Bool().Draw(t, "found")
		r.Uncertainty = geo.Meters(rapid.SampledFrom([]int{0, 3, 12, 200}).Draw(t, "uncertainty"))
		r.Notes = Notes{RecordedBy: rapid.SampledFrom([]string{"A", "B"}).Draw(t, "by")}.Pack()
		records[i] = r
	}
	return records
}

// apart is the distance at which two records are at two places: what both positions are off by, 5 m
// where that is not recorded and 100 m at most.
func apart(a, b *Record) bool {
	off := func(r *Record) float64 {
		if r.Uncertainty == 0 {
			return 5
		}
		return math.Min(100, float64(r.Uncertainty))
	}
	return float64(earth.Distance(a.Position, b.Position)) > off(a)+off(b)
}

// Absences against finds, by comparing each with each: the latest absence at the place counts, of two as
// late the first by id, and a find goes where work lies between.
func TestAbsencesByComparingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records := some(t)
		work := DayOf(q3.Begin()) + Day(rapid.IntRange(0, 6).Draw(t, "work"))
		var kept, said []string
		aside := map[string]int{}
		for i := range records {
			find, last := &records[i], -1
			for k := range records {
				a := &records[k]
				counts := a.End > find.End || a.End == find.End && a.RecordedBy() != find.RecordedBy()
				if find.Detected && !a.Detected && a.End != 0 && counts && !apart(a, find) && (last < 0 || a.End > records[last].End) {
					last = k
				}
			}
			switch {
			case last < 0:
				kept = append(kept, find.ID)
				continue
			case find.Begin != 0 && records[last].End > find.End && find.Begin <= work && work <= records[last].End:
				said = append(said, find.ID+" find-gone-after-work "+records[last].ID)
				aside[find.File]++
				continue
			}
			kept, said = append(kept, find.ID), append(said, find.ID+" absence-overruled "+records[last].ID)
		}
		got := SettleAbsences(slices.Clone(records), func(_ *Record, from, to Day) bool { return from <= work && work <= to }, DefaultOptions(q3))
		var told []string
		for _, f := range got.Findings {
			who, _, _ := strings.Cut(strings.TrimPrefix(f.Message, "record "), ",")
			told = append(told, f.Record+" "+f.Rule.Code+" "+who)
		}
		slices.Sort(told)
		slices.Sort(said)
		if ids(got.Records) != strings.Join(kept, " ") || !slices.Equal(told, said) {
			t.Errorf("kept %s with %q, want %q with %q", ids(got.Records), told, kept, said)
		}
		k := keepAll(t, records)
		gone, same := SettleKept(k, func(_ *Record, from, to Day) bool { return from <= work && work <= to }, DefaultOptions(q3))
		left := k
		if gone != nil {
			var err error
			if left, err = k.Without(gone); err != nil {
				t.Fatal(err)
			}
		}
		if !reflect.DeepEqual(same.Findings, got.Findings) || !reflect.DeepEqual(same.Aside, got.Aside) || ids(left.all()) != ids(got.Records) {
			t.Errorf("kept ones: %s with %v, want %s with %v", ids(left.all()), same.Findings, ids(got.Records), got.Findings)
		}
		for _, a := range got.Aside {
			if aside[a.File] != a.Records {
				t.Errorf("%s: %d set aside, want %d", a.File, a.Records, aside[a.File])
			}
			delete(aside, a.File)
		}
		if len(aside) > 0 {
			t.Errorf("not told of as set aside: %v", aside)
		}
	})
}

// What is set aside of all records is set aside of those that NearWork picks, with the same words; and
// it picks finds that were worked on at some time after, and absences alone.
func TestNearWorkPicksEnough(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records := some(t)
		for i := range records {
			records[i].Position[0] += float64(rapid.IntRange(0, 9).Draw(t, "hundred metres")) * 100 / 111320
		}
		work := DayOf(q3.Begin()) + Day(rapid.IntRange(0, 6).Draw(t, "work"))
		worked := func(r *Record, from, to Day) bool { return r.Position[0] < 10.005 && from <= work && work <= to }
		passes := 0
		picked, err := NearWork(func(yield func(*Record) error) error {
			passes++
			for i := range records {
				if err := yield(&records[i]); err != nil {
					return err
				}
			}
			return nil
		}, worked)
		if err != nil || passes > 2 {
			t.Fatalf("%v after %d passes", err, passes)
		}
		for _, r := range picked {
			if r.Detected && !worked(&r, r.Begin, math.MaxInt32) || !r.Detected && r.End == 0 {
				t.Errorf("%s is picked", r.ID)
			}
		}
		gone := func(of []Record) (out []string) {
			for _, f := range SettleAbsences(slices.Clone(of), worked, DefaultOptions(q3)).Findings {
				if f.Rule.Code == "find-gone-after-work" {
					out = append(out, f.Record+" "+f.Message)
				}
			}
			return out
		}
		if all, some := gone(records), gone(picked); !slices.Equal(all, some) {
			t.Errorf("of all %q, of those picked %q", all, some)
		}
	})
	stop := errors.New("stop")
	for pass := 1; pass <= 2; pass++ {
		n, r := 0, at("a", 1, 10, 1)
		_, err := NearWork(func(yield func(*Record) error) error {
			if n++; n == pass {
				return stop
			}
			return yield(&r)
		}, func(*Record, Day, Day) bool { return true })
		if !errors.Is(err, stop) {
			t.Errorf("stopped in pass %d: %v", pass, err)
		}
	}
}

// The newest look of one id, by comparing each with each, the newest first: a look is set aside for a
// later one at its place that stays, unless it is a find and the later one is none.
func TestNewestByComparingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records := some(t, "a", "a", "b")
		for i := range records {
			records[i].PatchArea = geo.SquareMeters(i + 1) // tells them apart
		}
		looks := slices.Clone(records)
		slices.SortStableFunc(looks, func(a, b Record) int { return int(b.End) - int(a.End) })
		var stay []Record
		for _, r := range looks {
			if r.End == 0 || !slices.ContainsFunc(stay, func(s Record) bool {
				return s.ID == r.ID && s.End > r.End && r.End != 0 && (s.Detected || !r.Detected) && !apart(&s, &r)
			}) {
				stay = append(stay, r)
			}
		}
		got := Examine(slices.Clone(records), DefaultOptions(q3))
		areas := func(of []Record) (out []float64) {
			for _, r := range of {
				out = append(out, float64(r.PatchArea))
			}
			slices.Sort(out)
			return out
		}
		if !slices.Equal(areas(got.Records), areas(stay)) {
			t.Errorf("%v stay, want %v", areas(got.Records), areas(stay))
		}
		aside := 0
		for _, a := range got.Aside {
			aside += a.Records
		}
		if aside != len(records)-len(stay) {
			t.Errorf("%d set aside, want %d", aside, len(records)-len(stay))
		}
	})
}

// Records of one place, day and observer, by comparing each with those before it by id.
func TestRepeatsByComparingAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		records := some(t)
		for i := range records {
			records[i].Position[0] = 10 + float64(rapid.IntRange(0, 1).Draw(t, "place"))
		}
		var want []string
		for i := range records {
			for k := range i {
				a, b := &records[k], &records[i]
				if a.Position == b.Position && a.Begin == b.Begin && a.Begin != 0 && a.RecordedBy() == b.RecordedBy() {
					want = append(want, b.ID+" like "+a.ID)
					break
				}
			}
		}
		c := newChecker(DefaultOptions(q3))
		var p repeats
		for i := range records {
			p.next(i, &records[i])
		}
		p.end(c, Records{Listed: records}.At)
		var got []string
		for _, f := range c.Findings() {
			got = append(got, f.Record+" like "+f.Value)
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	})
}

// Every value of a record tells two apart, but for those that say where it came from; notes too.
func TestEveryValueTellsRecordsApart(t *testing.T) {
	full := func() Record {
		return Record{ID: "i", File: "f", Row: 3, Position: orb.Point{1, 2}, Begin: 5, End: 6, Uncertainty: 7, PatchArea: 8, Cover: 9, StemHeight: 10, Status: 1,
			Outline: orb.MultiPolygon{{{{1, 1}, {2, 1}, {2, 2}, {1, 1}}}}, Notes: Notes{RecordedBy: "b", Parcel: "p", Remarks: "r", Extra: []string{"x"}}.Pack()}
	}
	kind := reflect.TypeFor[Record]()
	for i := range kind.NumField() {
		var others []Record
		other, name := full(), kind.Field(i).Name
		field := reflect.ValueOf(&other).Elem().Field(i)
		switch field.Kind() {
		case reflect.String:
			if name != "Notes" {
				field.SetString("z")
				break
			}
			for _, notes := range []Notes{{"c", "p", "r", []string{"x"}}, {"b", "q", "r", []string{"x"}}, {"b", "p", "s", []string{"x"}}, {"b", "p", "r", []string{"y"}}} {
				one := full()
				one.Notes = notes.Pack()
				others = append(others, one)
			}
		case reflect.Int, reflect.Int32:
			field.SetInt(field.Int() + 1)
		case reflect.Uint8:
			field.SetUint(field.Uint() + 1)
		case reflect.Float64:
			field.SetFloat(field.Float() + 1)
		case reflect.Bool:
			field.SetBool(true)
		case reflect.Array:
			other.Position[1]++
		case reflect.Slice:
			other.Outline[0][0][1][0]++
		default:
			t.Fatalf("%s is of no kind that is changed here", name)
		}
		if others == nil {
			others = []Record{other}
		}
		for _, other := range others {
			plain, want := full(), -1
			if name == "ID" || name == "File" || name == "Row" {
				want = 0
			}
			if a, b := compareContent(&plain, &other), compareContent(&other, &plain); a != want || b != -want {
				t.Errorf("%s: %d and %d", name, a, b)
			}
		}
	}
	none := full()
	none.Notes = ""
	if plain := full(); compareContent(&none, &plain) != -1 || !reflect.DeepEqual(none.Told(), Notes{}) {
		t.Error("a record without notes is as one with them")
	}
}

// Every day from 1999 to 2001 in each form that is read, by the calendar of the time package.
func TestEveryDayInEveryForm(t *testing.T) {
	for d := date(1999, 1, 1); d.Year() < 2002; d = d.AddDate(0, 0, 1) {
		for _, form := range []string{"2006-01-02", "20060102", "2006/01/02", "2006-002", "2 Jan 2006", "January 2, 2006", "02.01.2006", "2006-1-2", "2006-01-02T15:04:05Z", "Monday 2 January 2006", "2006 Jan 2"} {
			begin, end, err := ParseDate(d.Format(form))
			if err != nil || !begin.Equal(d) || !end.Equal(d) {
				t.Errorf("%s: %v to %v, %v", d.Format(form), begin, end, err)
			}
		}
		for order, form := range map[DateOrder]string{DayFirst: "2/1/2006", MonthFirst: "1/2/2006"} {
			if begin, _, err := ParseDateIn(d.Format(form), order); err != nil || !begin.Equal(d) {
				t.Errorf("%s: %v, %v", d.Format(form), begin, err)
			}
		}
		// an interval to the next day may leave out what both share
		next := d.AddDate(0, 0, 1)
		short := next.Format("2006-01-02")
		if next.Year() == d.Year() {
			if short = next.Format("01-02"); next.Month() == d.Month() {
				short = next.Format("02")
			}
		}
		if begin, end, err := ParseDate(d.Format(time.DateOnly) + "/" + short); err != nil || !begin.Equal(d) || !end.Equal(next) {
			t.Errorf("%s/%s: %v to %v, %v", d.Format(time.DateOnly), short, begin, end, err)
		}
		day := DayOf(d)
		if !day.Time().Equal(d) || DayOf(next) != day+1 || day.String() != d.Format(time.DateOnly) {
			t.Errorf("%s is day %d, %v", d.Format(time.DateOnly), day, day.Time())
		}
		q := QuarterOf(day)
		if d.Before(q.Begin()) || d.After(q.End()) || q.Next().Begin() != q.End().AddDate(0, 0, 1) || q.Next().Previous() != q || q.Next().Ordinal() != q.Ordinal()+1 {
			t.Errorf("%s is in %s, %v to %v", d.Format(time.DateOnly), q, q.Begin(), q.End())
		}
	}
	for month := 1; month <= 12; month++ {
		begin, end, err := ParseDate(fmt.Sprintf("2000-%02d", month))
		if err != nil || !begin.Equal(date(2000, month, 1)) || !end.AddDate(0, 0, 1).Equal(date(2000, month+1, 1)) {
			t.Errorf("month %d: %v to %v, %v", month, begin, end, err)
		}
	}
}

// Texts that are nearly dates are refused; by hand.
func TestNearlyDates(t *testing.T) {
	for _, text := range []string{
		"", "2026-00-01", "2026-13-01", "2026-02-29", "2026-04-31", "2026-000", "2026-366", "0999-01-01", "999", "2026-7", "202607", "2026-07-13T25", "2026-07-13T12:61", "2026-07T12:00", "2026-07-13/12",
		"2026-07-13/2026-07-12", "13 Jul", "Jul 2026 13 4", "13 Jux 2026", "32 Jul 2026", "0 Jul 2026", "13 Jul 26", "7/3/2026", "13.07.26", "2026-07-13 25:00", "2026-07-13T12:00+15:00", "13 Jul 2026 13:00 PM",
		"Ju 13 2026", "2026-07-1x", "13 Jul 0999", strings.Repeat(" ", 20) + "13 Jul 2026" + strings.Repeat("0", 64),
	} {
		if begin, end, err := ParseDate(text); err == nil {
			t.Errorf("%q is read as %v to %v", text, begin, end)
		}
	}
	for text, want := range map[string]string{
		"2024-366": "2024-12-31", "2024-02-29": "2024-02-29", "Sept. 3, 2026": "2026-09-03", "3rd May 2026": "2026-05-03", "2026-07-13 24:00": "2026-07-13", "13 Jul 2026 1:05 pm": "2026-07-13",
		"2026-07-13T12:00:00.5-03:30": "2026-07-13", "13-Jul-2026": "2026-07-13", "Tue 13 Jul 2026": "2026-07-13", "13 Jul 2026 12:00 UTC": "2026-07-13",
	} {
		if begin, _, err := ParseDate(text); err != nil || begin.Format(time.DateOnly) != want {
			t.Errorf("%q: %v, %v, want %s", text, begin, err, want)
		}
	}
	if day, _, err := ParseDateIn("13/07/26", DayFirst); err != nil || !day.Equal(date(2026, 7, 13)) {
		t.Errorf("%v, %v", day, err)
	}
}

// What the next rules look at, by hand: the defaults, and how far off a position counts as.
func TestOptionsByHand(t *testing.T) {
	o := DefaultOptions(q3)
	if o.First != DayOf(q3.Begin()) || o.LargestPatch != 1e6 || o.SmallestPatch != 1e-4 || o.Uncertainty != 5 || DefaultOptions(Quarter{}).First != 0 {
		t.Errorf("%+v", o)
	}
	for u, want := range map[geo.Meters]geo.Meters{0: 5, 30: 30, 500: 100} {
		if got := o.within(u); got != want {
			t.Errorf("%g m counts as %g m, want %g", float64(u), float64(got), float64(want))
		}
	}
	if s := DefaultSite(); s.Far != 20_000 || s.Meant != 2_000 {
		t.Errorf("%+v", s)
	}
	if kilometers(9_949) != "9.9 km" || kilometers(10_000) != "10 km" || recordsAre(1) != "1 record is" || recordsAre(2) != "2 records are" {
		t.Error("a number in words")
	}
	spans := Spans{}
	for _, d := range [][2]Day{{10, 12}, {8, 9}, {11, 20}} {
		spans.Take("f", d[0], d[1])
	}
	if spans["f"] != (Span{3, 8, 20}) {
		t.Errorf("%+v", spans["f"])
	}
	if Status(9).String() != "untreated" || RulePatchNotPositive().Code != "patch-not-positive" || RuleUncertaintyNotPositive().Code != "uncertainty-not-positive" || RulePositionMissing().Code != "position-missing" {
		t.Error("a rule has another code")
	}
}

// Positions at the limits of degrees, by hand.
func TestPositionsAtTheLimits(t *testing.T) {
	nan := math.NaN()
	for _, tt := range []struct {
		p    orb.Point
		want string
	}{
		{orb.Point{180, 90}, ""}, {orb.Point{-180, -90}, ""}, {orb.Point{180.1, 5}, "position-out-of-range"}, {orb.Point{5, 90.1}, "position-swapped"}, {orb.Point{91, 90.1}, "position-out-of-range"},
		{orb.Point{360, 5}, "position-out-of-range"}, {orb.Point{360.1, 5}, "position-projected"}, {orb.Point{5, -361}, "position-projected"}, {orb.Point{0, 0}, "position-zero"}, {orb.Point{0, 1e-9}, ""},
		{orb.Point{nan, 1}, "position-missing"}, {orb.Point{1, nan}, "position-missing"}, {orb.Point{math.Inf(1), 1}, "position-projected"},
	} {
		if rule, message := judge(tt.p); rule.Code != tt.want || (message == "") != (tt.want == "") {
			t.Errorf("%v: %s, want %s", tt.p, rule.Code, tt.want)
		}
	}
	c := newChecker(DefaultOptions(q3))
	for width, want := range map[float64]bool{5: true, 5.001: false, -5: true, -5.001: false} {
		for axis := range 2 {
			r := at("a", 1, 179, 1)
			far := orb.Point{179, 1}
			far[axis] += width
			far[0] = earth.Wrap(far[0])
			r.Outline = orb.MultiPolygon{{{{179, 1}, far, {179, 1.1}, {179, 1}}}}
			if got := c.checkPosition(&r); got != want {
				t.Errorf("%g degrees along axis %d: %v", width, axis, got)
			}
		}
	}
	r := at("a", 1, 1, 1)
	r.Outline = orb.MultiPolygon{{{{1, 1}, {nan, 1}, {1, 1.1}, {1, 1}}}}
	if c.checkPosition(&r) {
		t.Error("an outline with a corner that is no number is kept")
	}
}
