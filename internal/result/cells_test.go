package result

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"driftreach/geo"
)

// TestNumbersAsTheyArePrinted: a figure is printed as its exact binary value rounded half away from
// zero to the decimals of its unit, without trailing zeros. The test computes this with whole
// numbers (math/big), not with the package. The printed text reads back as the stored value and
// prints the same again.
func TestNumbersAsTheyArePrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		decimals := uint8(rapid.IntRange(0, 6).Draw(t, "decimals"))
		x := rapid.Float64Range(-1e6, 1e6).Draw(t, "x")
		if rapid.Bool().Draw(t, "half") { // a value whose last decimal is exactly a half
			x = math.Trunc(x) + 0.5
		}
		v := OfDecimals(x, decimals)
		scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil))
		exact := new(big.Rat).Mul(new(big.Rat).SetFloat64(x), scale)
		off := new(big.Rat).Sub(exact, new(big.Rat).SetInt64(v.Int))
		// within half a step; the rounding of a binary product may move a value close to a half
		if limit := big.NewRat(500001, 1000000); off.Abs(off).Cmp(limit) > 0 {
			t.Fatalf("%v to %d decimals is %d", x, decimals, v.Int)
		}
		want := strconv.FormatInt(v.Int, 10)
		if decimals > 0 {
			want = new(big.Rat).Quo(new(big.Rat).SetInt64(v.Int), scale).FloatString(int(decimals))
			want = strings.TrimSuffix(strings.TrimRight(want, "0"), ".")
		}
		if got := v.String(); got != want {
			t.Fatalf("%v to %d decimals prints %s, want %s", x, decimals, got, want)
		}
		back, ok := parseFixed(v.String())
		if !ok || back.String() != v.String() || math.Abs(back.Float()-v.Float()) > 1e-9 {
			t.Fatalf("%s reads back as %+v, %v", v, back, ok)
		}
	})
}

// TestCellsByHand: each kind of cell, and the text for a missing value.
func TestCellsByHand(t *testing.T) {
	day := time.Date(2026, 7, 2, 0, 0, 0, 0, time.UTC)
	for want, got := range map[string]Value{
		"reed": OfText("reed"), " reed": OfText(" reed"), "true": OfFlag(true), "false": OfFlag(false), "-7": OfCount(-7), "0": OfCount(0),
		"1.25": OfDecimals(1.25, 3), "-0.5": OfDecimals(-0.5, 1), "3": OfDecimals(2.5, 0), "-3": OfDecimals(-2.5, 0), "12.346": OfNumber(12.34567, Kilometers),
		"2026-07-02": days(day, day), "2026-07-02/2026-07-03": days(day, day.AddDate(0, 0, 1)), "a; b": {Kind: List, List: []string{"a", "b"}},
	} {
		if want == "12.346" {
			want = strings.TrimRight(strconv.FormatFloat(12.34567, 'f', int(Kilometers.Decimals()), 64), "0")
		}
		if got.String() != want || string(got.Append([]byte("x"))) != "x"+want {
			t.Errorf("%+v prints %q, want %q", got, got.String(), want)
		}
	}
	for name, v := range map[string]Value{
		"no text": OfText(""), "white space": OfText(" \t\n"), "no number": OfDecimals(math.NaN(), 2), "without end": OfDecimals(math.Inf(-1), 0), "too large": OfDecimals(1e16, 0),
		"too large once scaled": OfDecimals(1e10, 9), "no number of a unit": OfNumber(math.NaN(), Acres), "no day": days(time.Time{}, day),
	} {
		if v.Kind != Null || v.String() != "" {
			t.Errorf("%s: %+v", name, v)
		}
	}
	if got := OfDecimals(1<<53, 0); got.Int != 1<<53 || got.Float() != 1<<53 {
		t.Errorf("the largest that is held: %+v", got)
	}
	for text, ok := range map[string]bool{"1.5": true, "-2": true, "": false, "1.2.3": false, "1e3": false, "0.12345678901": false, "99999999999999999999": false, "9007199254740993": false, "-": false} {
		if v, got := parseFixed(text); got != ok {
			t.Errorf("%q reads as %+v, %v", text, v, got)
		}
	}
}

// TestCoarseKilometres: in a public edition the kilometres of stands are rounded to steps of its
// grid, those of streams and sums are unchanged, and the edition says how coarse positions are. By
// hand.
func TestCoarseKilometres(t *testing.T) {
	run := programme()
	if got := PublicCaution(run); got != "" {
		t.Errorf("no public edition says %q", got)
	}
	run.Coarse = 1000
	for _, one := range []struct {
		table string
		unit  Unit
		km    float64
		want  string
	}{{"stands", Kilometers, 12.345, "12"}, {"stands", Kilometers, 0.1, "1"}, {"stands", Kilometers, 0, "0"}, {"summary", Kilometers, 12.5, "12.5"}, {"network", Kilometers, 0.25, "0.25"}, {"stands", Acres, 12.5, "12.5"}} {
		if got := run.coarsened(one.table, one.unit, OfNumber(one.km, one.unit)).String(); got != one.want {
			t.Errorf("%v of %s: %s, want %s", one.km, one.table, got, one.want)
		}
	}
	if got := PublicCaution(run); !strings.Contains(got, "squares of 1000 m") {
		t.Errorf("the caution is %q", got)
	}
	// on the equator, where the two sides of a square are nearly equal, half a diagonal is 707 m;
	// with the record's own uncertainty of 31.5 m, rounded up
	record := run.Records.Listed[0]
	record.Position[1] = 30 // where the grid is true to scale: a square is 1000 by 1000 m
	if got := run.uncertainty(&record).Float(); got != math.Ceil(31.5+math.Sqrt2*500) && math.Abs(got-739) > 1 {
		t.Errorf("a record is %v m uncertain", got)
	}
}

// TestProposedAtWater: the proposed work of the programme at the water, by hand: one area, the
// acres not yet done, and banks of 1000 + 250 + 50 + 16093 tenths of a metre.
func TestProposedAtWater(t *testing.T) {
	run := programme()
	got := ProposedAtWater(run)
	s := &run.Stands[0]
	acres := (1 - s.Done.Share) * float64(s.Infested.Acres())
	meters := 1739.3
	if got.Areas != 1 || got.InZone != 1 || math.Abs(got.Acres-acres) > 1e-9 || math.Abs(got.Zone-0.25) > 1e-9 {
		t.Errorf("%+v, want one area of %v acres, 0.25 in the zone", got, acres)
	}
	if math.Abs(got.BankFeet-meters/0.3048) > 1e-6 || math.Abs(got.BankMiles-meters/1609.344) > 1e-9 {
		t.Errorf("%v feet, %v miles of bank, want %v m", got.BankFeet, got.BankMiles, meters)
	}
	run.WaterWork = nil
	if got := ProposedAtWater(run); got != (WaterWorkTotal{}) {
		t.Errorf("without a table: %+v", got)
	}
}

// TestNamesOfFeatures: the names that a map's reader sees for absent stands, notices and stretches.
func TestNamesOfFeatures(t *testing.T) {
	run := programme()
	for want, name := range map[string]func(*Run, []byte, int) []byte{
		"2026Q1-0002, not detected since 2026Q3": (*Run).AppendAbsentName,
		"mowing w1, stand 2026Q1-0001":           (*Run).AppendNoticeName,
	} {
		if got := string(name(run, nil, 0)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := string(run.AppendNoticeName(nil, 1)); got != "work w2, stand "+run.Stands[2].ID {
		t.Errorf("a work of no kind: %q", got)
	}
	if got := string(run.AppendStretchName(nil, 0)); !strings.HasPrefix(got, "1. Alder Creek, km 12.50 to 12.00") {
		t.Errorf("a stretch: %q", got)
	}
	run.Stretches[0].Listed = false
	if got := string(run.AppendStretchName(nil, 0)); !strings.HasPrefix(got, "Alder Creek, km") {
		t.Errorf("a stretch that is not listed: %q", got)
	}
	if got := InAcres(geo.Acres(1.25).SquareMeters().Grains()); got != "1.25" {
		t.Errorf("acres for people: %q", got)
	}
}
