package main

import (
	"math"
	"testing"

	"driftreach/geo"
	"driftreach/internal/demo"
	"driftreach/internal/drift"
	"driftreach/internal/priority"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// TestOrderBeatsOthersOnTheDemo: in each of its quarters what the recommended
// order takes away for good is more than what the largest stands first take, and
// more than random orders do on average; and all that it takes on the day lasts,
// since no stand comes after one that it seeds.
func TestOrderBeatsOthersOnTheDemo(t *testing.T) {
	scenario := demo.Make(1)
	for _, q := range scenario.Quarters {
		c := compare(answerOf(t, q, scenario.Streams))
		if c.recommended.lasting <= c.largest.lasting || c.recommended.lasting <= c.random.lasting {
			t.Errorf("%s: %+v", q.Quarter, c)
		}
		if math.Abs(c.recommended.day-c.recommended.lasting) > 1e-12 {
			t.Errorf("%s: some of what the order takes away does not last: %+v", q.Quarter, c.recommended)
		}
	}
}

// answerOf computes one quarter of the demo, without percentiles.
func answerOf(t *testing.T, q demo.QuarterFiles, streams []byte) *result.Run {
	t.Helper()
	when, err := survey.ParseQuarter(q.Quarter)
	if err != nil {
		t.Fatal(err)
	}
	s := settings.Default()
	s.Drift.Draws = 0
	return quarter.Answer(t, quarter.Of(when, q.Points, streams), s)
}

// TestShareByHand: stand 0 of 1 acre and exposure 1 lies above stand 1 of 1 acre
// and exposure 3. Downstream first takes, on the day, 3 of 4 over the first acre
// and then all: the area is (0 + 3/4)/2 half the way and (3/4 + 1)/2 the other
// half, 10/16; of that nothing lasts until the second acre, which brings all 4:
// 4/16. Upstream first is 1/4 and then all: (1/8 + 5/8)/2 = 6/16 both ways.
func TestShareByHand(t *testing.T) {
	one := func(order int, exposure float64, reached ...int32) result.Stand {
		return result.Stand{
			Stand: stand.Stand{Infested: geo.SquareMeters(4000)}, Advice: priority.Advice{Order: order},
			Drift: drift.Outcome{Exposure: drift.AmountKm(exposure), Reached: reached},
		}
	}
	answer := &result.Run{
		Stands: []result.Stand{one(1, 1, 1), one(2, 3)},
		Steps:  []drift.Step{{Stand: 0, Treat: true}, {Stand: 1, Treat: true}},
	}
	r := region{answer: answer, above: above(answer)}
	for _, tt := range []struct {
		name  string
		order []int
		want  share
	}{
		{"downstream first", []int{1, 0}, share{10.0 / 16, 4.0 / 16}},
		{"upstream first", []int{0, 1}, share{6.0 / 16, 6.0 / 16}},
	} {
		if got := r.share(tt.order); got != tt.want {
			t.Errorf("%s: %+v, want %+v", tt.name, got, tt.want)
		}
	}
	if c := compare(answer); c.stands != 2 || c.recommended != (share{6.0 / 16, 6.0 / 16}) || math.Abs(c.random.day-0.5) > 0.02 {
		t.Errorf("%+v", c)
	}
}
