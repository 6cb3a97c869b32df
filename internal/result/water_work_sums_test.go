package result

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/treatment"
)

// anyWork adds random work of two years to the shoreline: on any stands, drawn or not, told or not,
// with and without acres and products.
func anyWork(r *rapid.T) *Run {
	run := shoreline()
	ids := []string{"creek", "brook", "hill", "gone", "gone hill"}
	for k := range rapid.IntRange(0, 12).Draw(r, "jobs") {
		var on []string
		for _, id := range ids {
			if rapid.IntRange(0, 3).Draw(r, "on") == 0 {
				on = append(on, id)
			}
		}
		acres := rapid.SampledFrom([]float64{math.NaN(), 0, 0.00005, 0.1, 1.0 / 3, 2, 12.34567}).Draw(r, "acres")
		j := run.did(2025+k/7, 1+k%7, 1+k, acres, rapid.SampledFrom([]string{"", "mowing", "goats"}).Draw(r, "method"), on...)
		j.FormulationClass = rapid.SampledFrom([]string{"", treatment.General, treatment.AquaticLabelled}).Draw(r, "class")
		j.Unit = int32(rapid.IntRange(-2, 1).Draw(r, "unit"))
		if rapid.Bool().Draw(r, "drawn") {
			j.Ground = orb.MultiPolygon{square(-40, -33)[0]}
			run.WaterWork.Fresh[k] = rapid.Float64Range(0, 1).Draw(r, "fresh")
		}
		if rapid.IntRange(0, 2).Draw(r, "told") == 0 {
			j.Carried, j.Told = true, Place{Stands: slices.Clone(on), Waters: []string{"Alder Creek"}, UnitIDs: []string{"u2"}}
			if rapid.Bool().Draw(r, "forgotten") {
				j.Told.Stands = append(j.Told.Stands, "nobody knows")
			}
		}
		if j.Product = rapid.SampledFrom([]string{"", "Reed Away", " reed  AWAY"}).Draw(r, "product"); j.Product == "" {
			continue
		}
		j.AmountUnit = rapid.SampledFrom([]string{"l", "gal"}).Draw(r, "amount unit")
		j.Amount = rapid.SampledFrom([]float64{math.NaN(), 0.00005, 1.5, 2.3456}).Draw(r, "amount")
	}
	return run
}

// TestWorkAtWaterAddsUp: of any work the rows of a year add up to its sum, and the sum is of the list
// of work: each job once, each acre once, new or again. No acre is below 0, no stand is treated anew on
// more acres than it has.
func TestWorkAtWaterAddsUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		run := anyWork(r)
		stands, times := map[string]map[string]bool{}, map[string]int{}
		jobs, untold, entered := map[string]int{}, map[string]int{}, map[string]int64{}
		for i := range run.Treatments {
			j := &run.Treatments[i]
			year := j.Date.Format("2006")
			jobs[year]++
			entered[year] += run.treatmentAcres(j)
			untold[year] += ones(!(j.TreatedAcres > 0))
			for _, id := range workedOn(run, j) {
				if times[year]++; stands[year] == nil {
					stands[year] = map[string]bool{}
				}
				stands[year][id] = true
			}
		}
		rows := run.waterWork()
		for year := range jobs {
			var sum, all waterRow
			for _, w := range rows {
				if w.part != WaterDone || w.period[:4] != year {
					continue
				}
				if w.acres < 0 || w.repeatAcres < 0 || w.jobs < w.noAcres {
					r.Fatalf("%+v", w)
				}
				if w.place == AllWater {
					all = w
					continue
				}
				sum.acres, sum.repeatAcres, sum.jobs, sum.noAcres = sum.acres+w.acres, sum.repeatAcres+w.repeatAcres, sum.jobs+w.jobs, sum.noAcres+w.noAcres
				if w.place != AtWater && w.place != OffWater && w.place != WhereKnown || w.place == OffWater && w.water != "" {
					r.Fatalf("%s on %q", w.place, w.water)
				}
			}
			if sum.acres != all.acres || sum.repeatAcres != all.repeatAcres || sum.jobs != all.jobs || sum.noAcres != all.noAcres {
				r.Fatalf("%s: rows %+v, sum %+v", year, sum, all)
			}
			if all.jobs != jobs[year] || all.noAcres != untold[year] || all.acres+all.repeatAcres != entered[year] {
				r.Fatalf("%s: %d jobs of %d grains, the list has %d of %d", year, all.jobs, all.acres+all.repeatAcres, jobs[year], entered[year])
			}
			if all.areas != len(stands[year]) || all.areas+all.repeats != times[year] {
				r.Fatalf("%s: %d areas, %d repeats, worked on %v, %d times", year, all.areas, all.repeats, stands[year], times[year])
			}
		}
		holdProducts(r, run, rows)
	})
}

// workedOn returns the stands that a piece of work was done on: for work that an earlier batch listed
// those of them that are known, or else the first.
func workedOn(run *Run, j *Treatment) []string {
	if !j.Carried {
		return run.place(j).Stands
	}
	known := slices.DeleteFunc(slices.Clone(j.Told.Stands), func(id string) bool { return id == "nobody knows" })
	if len(known) == 0 && len(j.Told.Stands) > 0 {
		return j.Told.Stands[:1]
	}
	return known
}

// holdProducts holds the rows of products against the list of work and the table of products used.
func holdProducts(r *rapid.T, run *Run, rows []waterRow) {
	type used struct {
		jobs, noAmount int
		amount         int64
	}
	want, byPlace, all, monthly := map[string]used{}, map[string]used{}, map[string]used{}, map[string]used{}
	add := func(to map[string]used, key string, jobs, noAmount int, amount int64) {
		u := to[key]
		to[key] = used{u.jobs + jobs, u.noAmount + noAmount, u.amount + amount}
	}
	for i := range run.Treatments {
		if j := &run.Treatments[i]; j.Product != "" {
			amount := int64(0)
			if !math.IsNaN(j.Amount) {
				amount = int64(math.Round(j.Amount * 1e4))
			}
			add(want, j.Date.Format("2006")+j.AmountUnit, 1, ones(math.IsNaN(j.Amount)), amount)
		}
	}
	for _, w := range rows {
		switch {
		case w.part != WaterProduct:
		case w.place == AllWater:
			add(all, w.period[:4]+w.amountUnit, w.jobs, w.noAmount, w.amount)
		default:
			add(byPlace, w.period[:4]+w.amountUnit, w.jobs, w.noAmount, w.amount)
		}
	}
	for _, p := range run.products() {
		add(monthly, p.month[:4]+p.unit, p.jobs, p.noAmount, p.amount)
	}
	for name, got := range map[string]map[string]used{"by place": byPlace, "by year": all, "by month": monthly} {
		if fmt.Sprint(got) != fmt.Sprint(want) {
			r.Fatalf("products %s: %v, want %v", name, got, want)
		}
	}
}

// TestWhatWaitsAddsUp: of any stands to treat, each column of the places adds up to the whole, whose
// acres are those of the stands less what was treated, each rounded as printed; and the acres within a
// distance never exceed those within a larger one.
func TestWhatWaitsAddsUp(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		run := shoreline()
		run.WaterWork.Distances = []geo.Meters{7.5, 60}
		want := int64(0)
		for i := range run.Stands {
			s := &run.Stands[i]
			s.Done.Share = rapid.Float64Range(0, 1).Draw(r, "done")
			rest := float64(s.Infested) * (1 - s.Done.Share)
			near := rest * rapid.Float64Range(0, 1).Draw(r, "near")
			zone := near * rapid.Float64Range(0, 1).Draw(r, "zone")
			for k := range s.Shares {
				s.Shares[k].Zone = rapid.Int64Range(0, 2e9).Draw(r, "share of the zone")
			}
			run.WaterWork.Areas = append(run.WaterWork.Areas, WaterArea{Stand: int32(i), Zone: geo.SquareMeters(zone), Within: []geo.SquareMeters{geo.SquareMeters(zone), geo.SquareMeters(near)}})
			want += run.round(geo.SquareMeters(rest).Grains())
		}
		var sum, all waterRow
		sum.within = make([]int64, 2)
		for _, w := range run.waterWork() {
			if w.within[0] > w.within[1] && w.place == AllWater || w.zone > w.acres && w.place == AllWater {
				r.Fatalf("%+v", w)
			}
			if w.place == AllWater {
				all = w
				continue
			}
			sum.acres, sum.zone = sum.acres+w.acres, sum.zone+w.zone
			for d := range w.within {
				sum.within[d] += w.within[d]
			}
		}
		if sum.acres != all.acres || sum.zone != all.zone || !slices.Equal(sum.within, all.within) || all.areas != 3 {
			r.Fatalf("places %+v, all %+v", sum, all)
		}
		if all.acres != want {
			r.Fatalf("%d grains wait, want %d", all.acres, want)
		}
	})
}

// TestProductsUsed: names, numbers and units that differ only in case and spaces are one, written as
// in the first row; by month, product, number and unit. Amounts, acres and hours are added up as
// printed, what is missing is counted, and an amount of which none is told is blank; by hand.
func TestProductsUsed(t *testing.T) {
	run := shoreline()
	use := func(month int, product, number, unit string, amount, acres, hours float64) {
		j := run.did(2026, month, 3, acres, "")
		j.Product, j.Registration, j.AmountUnit, j.Amount, j.Hours = product, number, unit, amount, hours
	}
	nan := math.NaN()
	use(8, "Reed Away", "R-12", "l", 1, 0.5, 2)
	use(7, "Reed Away", "R-12", "l", 2.25, 0.125, 1.25)
	use(7, " reed  away", "r-12 ", "L", 1.50004, nan, nan)
	use(7, "Reed Away", "R-12", "gal", nan, 0.0625, 0.5)
	use(7, "Cane Off", "", "oz", 3, 1, 4)
	use(7, "Reed Away", "R-13", "l", nan, nan, nan)
	use(7, "REED AWAY", "R-13", "l", 0.25, 1, nan)
	run.did(2026, 7, 9, 5, "mowing")
	var got []string
	table := ProductTable(run)
	for i := range table.Rows {
		var cells []string
		for _, v := range table.Row(run, i, nil) {
			cells = append(cells, v.String())
		}
		got = append(got, strings.Join(cells, "|"))
	}
	want := []string{
		"2026-07|Cane Off||1|0|3|oz|1|0|4",
		"2026-07|Reed Away|R-12|1|1||gal|0.0625|0|0.5",
		"2026-07|Reed Away|R-12|2|0|3.75|l|0.125|1|1.25",
		"2026-07|Reed Away|R-13|2|1|0.25|l|1|1|0",
		"2026-08|Reed Away|R-12|1|0|1|l|0.5|0|2",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

// TestOrderOfRows: rows come by part; in it by year, the sum of the year first; then by month, place,
// unit, stream, method, class and product. What lies outside all units comes last. Any order of the
// rows before gives the same.
func TestOrderOfRows(t *testing.T) {
	run := &Run{}
	var want []waterKey
	for _, part := range []WaterPart{WaterProposed, WaterDone, WaterProduct} {
		for _, year := range []string{"2025", "2026"} {
			want = append(want, waterKey{part: part, place: AllWater, unit: allocate.Outside, period: year})
			for _, month := range []string{"-03", "-11"} {
				for _, place := range []WaterPlace{AtWater, OffWater, WhereKnown} {
					for _, unit := range []int32{0, 1, allocate.Outside} {
						for _, water := range []string{"", "Alder", "Beech"} {
							want = append(want, waterKey{part: part, place: place, unit: unit, water: water, period: year + month})
						}
					}
				}
			}
		}
	}
	last := want[len(want)-1]
	for _, more := range []func(*waterKey){
		func(k *waterKey) { k.amountUnit = "l" }, func(k *waterKey) { k.registration = "R-1" }, func(k *waterKey) { k.product = "a" },
		func(k *waterKey) { k.class = "general" }, func(k *waterKey) { k.method = "mowing" },
	} {
		k := last
		more(&k)
		want = append(want, k)
	}
	got := slices.Clone(want)
	for i := range got { // 7919 is a prime that divides no number of rows here
		j := i * 7919 % len(got)
		got[i], got[j] = got[j], got[i]
	}
	slices.SortFunc(got, func(a, b waterKey) int { return run.compareWater(&a, &b) })
	if d := cmp.Diff(want, got, cmp.AllowUnexported(waterKey{})); d != "" {
		t.Error(d)
	}
}
