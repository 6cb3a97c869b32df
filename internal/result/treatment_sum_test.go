package result

import (
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

// workRun returns a run of stands on two streams in two units, with random work: on known and
// unknown stands, with and without acres, with any words.
func workRun(r *rapid.T) *Run {
	q := survey.Quarter{Year: 2026, Number: 3}
	run := &Run{Quarter: q, WorkGiven: true, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}}, Centerlines: []stream.Centerline{{ID: "a", Name: "Long Water"}, {ID: "b"}}}
	for range rapid.IntRange(1, 4).Draw(r, "stands") {
		all := rapid.Int64Range(0, 3e9).Draw(r, "infested")
		west := rapid.Int64Range(0, all).Draw(r, "west")
		run.Stands = append(run.Stands, Stand{Stand: stand.Stand{Infested: geo.OfGrains(all), Gross: geo.OfGrains(all)}, Shares: []allocate.Share{
			{Unit: 0, Infested: west, Gross: west}, {Unit: 1, Infested: all - west, Gross: all - west},
		}})
		run.Stands[len(run.Stands)-1].Zone.Line = int32(rapid.IntRange(-1, 1).Draw(r, "line"))
	}
	for range rapid.IntRange(0, 6).Draw(r, "jobs") {
		j := Treatment{CountedIn: q, Unit: int32(rapid.IntRange(-2, 1).Draw(r, "unit")), Treatment: treatment.Treatment{
			Date: time.Date(2026, 7, 5, 0, 0, 0, 0, time.UTC), TreatedAcres: rapid.SampledFrom([]float64{0, 0.1, 0.00005, 1.0 / 3, 12.34567}).Draw(r, "acres"),
			Method:           rapid.SampledFrom([]string{"", treatment.CutStump, "goats"}).Draw(r, "method"),
			FormulationClass: rapid.SampledFrom([]string{"", treatment.General, "brand"}).Draw(r, "class"),
		}}
		for i := range run.Stands {
			if rapid.Bool().Draw(r, "on") {
				j.On = append(j.On, Ground{int32(i), -1})
			}
		}
		run.Treatments = append(run.Treatments, j)
	}
	return run
}

// TestWorkAddsUp: in every column streams add up to the total, and so do units. In every row
// methods add up to its acres, and so do classes. The total is the sum of the printed rows.
func TestWorkAddsUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		run := workRun(r)
		sums := Summarize(run)
		var streams, units TreatmentSum
		for i := range sums {
			s := &sums[i]
			switch s.Scope {
			case Total:
			case InUnit, OutsideUnits, NoPlace:
				units.add(&s.Work)
			default:
				streams.add(&s.Work)
			}
			methods, classes := int64(0), int64(0)
			for _, n := range s.Work.ByMethod {
				methods += n
			}
			for _, n := range s.Work.ByClass {
				classes += n
			}
			if methods != s.Work.Acres || classes != s.Work.Acres || s.Work.Acres < 0 {
				r.Fatalf("%s: %d by method, %d by class, %d in all", s.Scope, methods, classes, s.Work.Acres)
			}
		}
		if streams != sums[0].Work || units != sums[0].Work {
			r.Fatalf("streams %+v, units %+v, total %+v", streams, units, sums[0].Work)
		}
		printed, silent := int64(0), 0
		for i := range run.Treatments {
			printed += run.treatmentAcres(&run.Treatments[i])
			silent += ones(!run.Treatments[i].AcresTold())
		}
		if sums[0].Work.Acres != printed || sums[0].Work.Treatments != len(run.Treatments) || sums[0].Work.NoAcres != silent {
			r.Fatalf("%+v of %d jobs, %d printed", sums[0].Work, len(run.Treatments), printed)
		}
	})
}

// TestWorkBelongsToTheGroundItWasDoneOn, by hand: two stands, of 3 acres with a third in u1 and of
// 1 acre in u2, both had the id that the work names. 2 acres of work are divided into 1.5 and 0.5,
// and a third of the 1.5 is in u1.
func TestWorkBelongsToTheGroundItWasDoneOn(t *testing.T) {
	acre := geo.Acres(1).SquareMeters().Grains()
	q := survey.Quarter{Year: 2026, Number: 3}
	run := &Run{
		Quarter: q, WorkGiven: true, Units: []unit.Unit{{ID: "u1"}, {ID: "u2"}}, Centerlines: []stream.Centerline{{ID: "a", Name: "Long Water"}, {ID: "b", Name: "Short Water"}},
		Stands: []Stand{
			{Stand: stand.Stand{Infested: geo.OfGrains(3 * acre)}, Shares: []allocate.Share{{Unit: 0, Infested: acre}, {Unit: 1, Infested: 2 * acre}}},
			{Stand: stand.Stand{Infested: geo.OfGrains(acre)}, Shares: []allocate.Share{{Unit: 1, Infested: acre}}},
		},
		Treatments: []Treatment{{CountedIn: q, On: []Ground{{0, -1}, {1, -1}}, Treatment: treatment.Treatment{TreatedAcres: 2, Method: treatment.Injection}}},
	}
	run.Stands[1].Zone.Line = 1
	want := map[string]int64{"total": 2 * acre, "waterBody Long Water": 3 * acre / 2, "waterBody Short Water": acre / 2, "unit u1": acre / 2, "unit u2": 3 * acre / 2, "outsideUnits": 0}
	for _, s := range Summarize(run) {
		name := string(s.Scope)
		if s.Name != "" {
			name += " " + s.Name
		}
		if s.Work.Acres != want[name] || s.Work.ByMethod[2] != want[name] {
			t.Errorf("%s: %d grains, want %d", name, s.Work.Acres, want[name])
		}
	}
}

// By hand, in whole printed digits: divided by weights, with the last digit to the largest
// remainder; equally if all weights are 0.
func TestDivided(t *testing.T) {
	run := &Run{AcreDecimals: 4}
	const digit = 1_000_000
	for _, c := range []struct {
		all           int64
		weights, want []int64
	}{
		{12 * digit, []int64{0, 0, 0}, []int64{4 * digit, 4 * digit, 4 * digit}},
		{10 * digit, []int64{0, 0}, []int64{5 * digit, 5 * digit}},
		{9 * digit, []int64{2, 1}, []int64{6 * digit, 3 * digit}},
		{10 * digit, []int64{7, 7, 6}, []int64{4 * digit, 3 * digit, 3 * digit}}, // 3.5, 3.5 and 3 digits
		{0, []int64{3, 4}, []int64{0, 0}},
		{5 * digit, nil, nil},
	} {
		if got := run.divided(c.all, c.weights); !slices.Equal(got, c.want) {
			t.Errorf("%d by %v: %v, want %v", c.all, c.weights, got, c.want)
		}
	}
}

// Each word has its own column; an unknown word counts as other, a blank one as not given. Half an
// acre by each gives the row half an acre in each column, by hand.
func TestAcresByWord(t *testing.T) {
	for name, words := range map[string][]treatment.Split{"methods": treatment.ByMethod[:], "classes": treatment.ByClass[:]} {
		var got []int
		for _, w := range words[:len(words)-2] {
			got = append(got, wordAt(words, w.Word))
		}
		for _, other := range []string{"goats", "Foliar Spray", " ", ""} {
			got = append(got, wordAt(words, other))
		}
		var want []int
		for k := range len(words) - 2 {
			want = append(want, k)
		}
		if want = append(want, len(words)-2, len(words)-2, len(words)-1, len(words)-1); !slices.Equal(got, want) {
			t.Errorf("%s: columns %v, want %v", name, got, want)
		}
	}
	var s TreatmentSum
	for _, method := range []string{treatment.CutStump, "goats", "", treatment.CutStump} {
		s.addAcres(&Treatment{Treatment: treatment.Treatment{Method: method, FormulationClass: treatment.General}}, 5)
	}
	n := len(s.ByMethod)
	if s.Acres != 20 || s.ByMethod[wordAt(treatment.ByMethod[:], treatment.CutStump)] != 10 || s.ByMethod[n-2] != 5 || s.ByMethod[n-1] != 5 {
		t.Errorf("%+v", s)
	}
}
