package result

import (
	"testing"

	"pgregory.net/rapid"
)

// TestPartsAddUpAsPrinted: for any rows of any size, the printed parts of change add up: each part
// over the rows to the total, and the parts of each row to its infested acres. No part that cannot
// be negative is negative, cleared acres are part of those not detected, and no figure is moved by
// more than a few of its last digits.
func TestPartsAddUpAsPrinted(t *testing.T) {
	const step, grains = 1_000_000, 10_000_000 // four decimals; parts of some last digits
	rapid.Check(t, func(t *rapid.T) {
		run := &Run{AcreDecimals: 4, Previous: &Previous{}}
		part := rapid.OneOf(rapid.Just(int64(0)), rapid.Int64Range(0, grains), rapid.Int64Range(0, step))
		signed := rapid.OneOf(rapid.Just(int64(0)), rapid.Int64Range(-grains, grains))
		var exact, total Sum
		var rows, before []Sum
		for range rapid.IntRange(1, 12).Draw(t, "rows") {
			c := Parts{
				Observed: signed.Draw(t, "observed"), Restated: signed.Draw(t, "restated"), New: part.Draw(t, "new"), FoundAgain: part.Draw(t, "again"),
				FirstLooked: part.Draw(t, "first"), NotDetected: part.Draw(t, "gone"), Carried: 0,
			}
			c.Cleared = c.NotDetected * rapid.Int64Range(0, 4).Draw(t, "cleared") / 4
			if rest := c.Observed + c.Restated - c.NotDetected; rest < 0 {
				c.Previous = -rest
			}
			c.Previous += part.Draw(t, "previous")
			s := Sum{Scope: WaterBody, Change: c}
			s.Infested = c.Previous + c.Restated + c.Observed + c.New + c.FoundAgain + c.FirstLooked - c.NotDetected
			s.Change.Carried = min(c.Previous, s.Infested) * rapid.Int64Range(0, 4).Draw(t, "carried") / 4
			k := rapid.IntRange(0, 3).Draw(t, "status")
			s.ByStatus[k] = s.Infested / 3
			s.ByStatus[(k+1)%4] = s.Infested - s.ByStatus[k]
			s.Gross = s.Infested
			rows, before = append(rows, s), append(before, s)
			total.add(&s)
		}
		exact = total
		run.inPrint(&total, rows)
		var sum Sum
		for i := range rows {
			s, c := &rows[i], rows[i].Change
			sum.add(s)
			if c.Previous+c.Restated+c.Observed+c.New+c.FoundAgain+c.FirstLooked-c.NotDetected != s.Infested {
				t.Fatalf("row %d: %+v does not make %d", i, c, s.Infested)
			}
			if min(c.Previous, c.New, c.FoundAgain, c.FirstLooked, c.NotDetected, c.Cleared, c.Carried) < 0 || c.Cleared > c.NotDetected {
				t.Fatalf("row %d: %+v", i, c)
			}
			for name, pair := range map[string][2]int64{
				"previous": {c.Previous, before[i].Change.Previous}, "restated": {c.Restated, before[i].Change.Restated},
				"observed": {c.Observed, before[i].Change.Observed}, "new": {c.New, before[i].Change.New},
				"not detected": {c.NotDetected, before[i].Change.NotDetected},
			} {
				if off := pair[0] - pair[1]; off > 12*step || off < -12*step {
					t.Fatalf("row %d: %s is %d, exactly %d", i, name, pair[0], pair[1])
				}
			}
		}
		if sum.Change != total.Change || sum.Infested != total.Infested || sum.ByStatus != total.ByStatus {
			t.Fatalf("rows add up to %+v, the total is %+v", sum.Change, total.Change)
		}
		if off := total.Change.Previous - exact.Change.Previous; off > step/2 || off < -step/2 {
			t.Fatalf("the batch before had %d, printed as %d", exact.Change.Previous, total.Change.Previous)
		}
	})
}

// By hand: a row whose previous acres came out one digit below 0 gets a digit from another row. It
// moves through a part that both rows have, here the restated acres, not through the observed
// change, which is 0 in both and stays 0. A digit too many moves the other way.
func TestWhichDigitMoves(t *testing.T) {
	const step = 1_000_000
	for name, part := range map[string]func(*Parts) *int64{
		"restated": func(p *Parts) *int64 { return &p.Restated }, "new": func(p *Parts) *int64 { return &p.New },
		"found again": func(p *Parts) *int64 { return &p.FoundAgain }, "first looked at": func(p *Parts) *int64 { return &p.FirstLooked },
		"not detected": func(p *Parts) *int64 { return &p.NotDetected },
	} {
		way := int64(1)
		if name == "not detected" {
			way = -1
		}
		// 9 digits of the part in each row, and 5 of previous acres in the first
		exact, rows := make([]Parts, 2), make([]Sum, 2)
		for i := range rows {
			*part(&exact[i]), *part(&rows[i].Change) = 9*step, 9*step
		}
		exact[0].Previous, rows[0].Change.Previous = 5*step, 5*step
		rows[1].Change.Previous = -step
		b := balance{rows: rows, exact: exact, step: step}
		b.settle()
		want := []Parts{{Previous: 4 * step}, {}}
		*part(&want[0]), *part(&want[1]) = (9+way)*step, (9-way)*step
		if rows[0].Change != want[0] || rows[1].Change != want[1] {
			t.Errorf("%s: %+v and %+v, want %+v", name, rows[0].Change, rows[1].Change, want)
		}
		// a row without previous acres has a digit too many: it goes to the row that has some
		rows[0].Change, rows[1].Change = Parts{Previous: 4 * step}, Parts{Previous: step}
		*part(&rows[0].Change), *part(&rows[1].Change) = 9*step, 9*step
		b = balance{rows: rows, exact: exact, step: step}
		b.settle()
		want = []Parts{{Previous: 5 * step}, {}}
		*part(&want[0]), *part(&want[1]) = (9-way)*step, (9+way)*step
		if rows[0].Change != want[0] || rows[1].Change != want[1] {
			t.Errorf("%s, the other way: %+v and %+v, want %+v", name, rows[0].Change, rows[1].Change, want)
		}
	}
	// both have no part in common: the digit moves through the observed change, from the first row
	// that has one
	rows := []Sum{{Change: Parts{Previous: step}}, {Change: Parts{Previous: -step}}}
	b := balance{rows: rows, exact: make([]Parts, 2), step: step}
	b.settle()
	if rows[0].Change != (Parts{Observed: step}) || rows[1].Change != (Parts{Observed: -step}) {
		t.Errorf("by the observed change: %+v and %+v", rows[0].Change, rows[1].Change)
	}
}
