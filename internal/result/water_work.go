package result

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/field"
	"driftreach/internal/priority"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

// WaterPart says what a row of water_work.csv is about.
type WaterPart string

// The parts, in the order of the rows.
const (
	WaterProposed WaterPart = field.PartProposed // to be treated
	WaterDone     WaterPart = field.PartDone     // control work done
	WaterProduct  WaterPart = field.PartProduct  // use of one product in that work
)

// WaterPlace says where the areas of a row are in relation to the water.
type WaterPlace string

// The places, in the order of the rows.
const (
	AllWater   WaterPlace = field.All   // sum of the rows of a part and year
	AtWater    WaterPlace = "at water"  // areas in the zone, or within the largest distance
	OffWater   WaterPlace = "off water" // areas farther from any bank
	WhereKnown WaterPlace = "not known" // work on no known stand
)

// waterKey identifies the row of a piece of work.
type waterKey struct {
	part   WaterPart
	place  WaterPlace
	unit   int32
	water  string
	period string // month; year in a row that is a sum
	// of work done
	method, class string
	// of a product
	product, registration, amountUnit string
}

// waterRow is one row. Acres are in grains, rounded as printed; lengths are in units of 1e-4 km.
type waterRow struct {
	waterKey
	areas, zoneAreas, planned    int
	acres, zone                  int64
	within                       []int64
	channel, both, shore         int64
	months, methods, classes     []string
	parcels, owners              []string
	jobs, noAcres                int
	repeats                      int
	repeatAcres                  int64
	named, numbered, amountNamed string // of a product, as written first
	amount                       int64
	noAmount                     int
}

// waterRows collects rows by their keys.
type waterRows struct {
	run *Run
	at  map[waterKey]*waterRow
}

func (t *waterRows) row(k waterKey) *waterRow {
	r := t.at[k]
	if r == nil {
		r = &waterRow{waterKey: k}
		if t.run.WaterWork != nil {
			r.within = make([]int64, len(t.run.WaterWork.Distances))
		}
		t.at[k] = r
	}
	return r
}

// waterWork returns the rows of water_work.csv, in order. They must not be changed.
func (r *Run) waterWork() []waterRow {
	if r.WaterWork == nil || r.water != nil {
		return r.water
	}
	t := waterRows{run: r, at: map[waterKey]*waterRow{}}
	for i := range r.WaterWork.Areas {
		t.propose(&r.WaterWork.Areas[i])
	}
	for _, p := range r.WaterWork.Pieces {
		for _, k := range []waterKey{
			{part: WaterProposed, place: AllWater, unit: allocate.Outside},
			{part: WaterProposed, place: AtWater, unit: p.Unit, water: r.Line(p.Line).Name},
		} {
			row := t.row(k)
			row.channel, row.both, row.shore = row.channel+p.Channel, row.both+p.Both, row.shore+p.Shore
		}
	}
	t.work()
	out := make([]waterRow, 0, len(t.at))
	for _, row := range t.at { // sorted below
		for _, words := range []*[]string{&row.months, &row.methods, &row.classes, &row.parcels, &row.owners} {
			*words = unique(*words)
		}
		out = append(out, *row)
	}
	slices.SortFunc(out, func(a, b waterRow) int { return r.compareWater(&a.waterKey, &b.waterKey) })
	return out
}

func (r *Run) compareWater(a, b *waterKey) int {
	part := func(k *waterKey) int {
		return slices.Index([]WaterPart{WaterProposed, WaterDone, WaterProduct}, k.part)
	}
	place := func(k *waterKey) int {
		return slices.Index([]WaterPlace{AllWater, AtWater, OffWater, WhereKnown}, k.place)
	}
	year := func(k *waterKey) string { return k.period[:min(4, len(k.period))] }
	return cmp.Or(
		cmp.Compare(part(a), part(b)), strings.Compare(year(a), year(b)), cmp.Compare(min(1, place(a)), min(1, place(b))),
		strings.Compare(a.period, b.period), cmp.Compare(place(a), place(b)), cmp.Compare(uint32(a.unit), uint32(b.unit)), strings.Compare(a.water, b.water),
		strings.Compare(a.method, b.method), strings.Compare(a.class, b.class),
		strings.Compare(a.product, b.product), strings.Compare(a.registration, b.registration), strings.Compare(a.amountUnit, b.amountUnit),
	)
}

// atWater says where a stand on the map is in relation to the water.
func (r *Run) atWater(stand int32) WaterPlace {
	if r.Stands[stand].Zone.WaterDistance <= r.WaterWork.AtWater {
		return AtWater
	}
	return OffWater
}

// propose adds an area to treat to the rows of its reporting units.
func (t *waterRows) propose(a *WaterArea) {
	r, s := t.run, &t.run.Stands[a.Stand]
	shares := s.Shares
	if len(shares) == 0 {
		shares = []allocate.Share{{Unit: allocate.Outside, Infested: 1, Zone: 1}}
	}
	whole := t.row(waterKey{part: WaterProposed, place: AllWater, unit: allocate.Outside})
	rows := make([]*waterRow, len(shares))
	ground, wet := make([]int64, len(shares)), make([]int64, len(shares))
	for k, share := range shares {
		ground[k], wet[k] = share.Infested, share.Zone
		key := waterKey{part: WaterProposed, place: r.atWater(a.Stand), unit: share.Unit}
		if key.place == AtWater {
			key.water = r.Line(s.Zone.Line).Name
		}
		rows[k] = t.row(key)
	}
	if !slices.ContainsFunc(wet, func(w int64) bool { return w > 0 }) {
		wet = ground
	}
	inZone := s.Zone.InZone && a.Zone > 0
	spread := func(all int64, weights []int64, of func(*waterRow) *int64) {
		*of(whole) += all
		for k, part := range r.divided(all, weights) {
			*of(rows[k]) += part
		}
	}
	spread(r.round((s.Infested * geo.SquareMeters(1-s.Done.Share)).Grains()), ground, func(w *waterRow) *int64 { return &w.acres })
	spread(r.round(a.Zone.Grains()), wet, func(w *waterRow) *int64 { return &w.zone })
	for d := range a.Within {
		spread(r.round(a.Within[d].Grains()), wet, func(w *waterRow) *int64 { return &w.within[d] })
	}
	for k, row := range append(rows, whole) {
		wets := inZone && (k == len(shares) || wet[k] > 0)
		row.areas++
		row.zoneAreas += ones(wets)
		row.planned += ones(r.Plan != nil && int(a.Stand) < len(r.Plan.RowOf) && r.Plan.RowOf[a.Stand] >= 0)
		row.months = append(row.months, a.Months...)
		row.methods = append(row.methods, t.methods(s)...)
		if wets {
			row.classes = append(row.classes, treatment.AquaticLabelled)
		}
		row.parcels, row.owners = append(row.parcels, r.parcels(s)...), append(row.owners, r.owners(s)...)
	}
}

// methods returns the methods that --treatable names for a stand, and by hand if the stand is small
// enough.
func (t *waterRows) methods(s *Stand) (out []string) {
	for i := range s.Treatable {
		if m := strings.TrimSpace(s.Treatable[i].Method); m != "" {
			out = append(out, m)
		}
	}
	if slices.Contains(s.Advice.Requirements, priority.HandPull) {
		out = append(out, treatment.HandPull)
	}
	return out
}

// parcels returns the parcels that a stand's records name.
func (r *Run) parcels(s *Stand) (out []string) {
	for _, m := range s.Members {
		if p := strings.TrimSpace(r.Records.At(int(m)).Parcel()); p != "" {
			out = append(out, p)
		}
	}
	return unique(out)
}

// owners returns the owners named in a stand's records and in --treatable.
func (r *Run) owners(s *Stand) []string {
	out := r.toldOf(s, r.Crew.Owner)
	for i := range s.Treatable {
		if o := strings.TrimSpace(s.Treatable[i].Owner); o != "" {
			out = append(out, o)
		}
	}
	return unique(out)
}

// yearly is what has been counted for a stand so far in a year.
type yearly struct {
	counted int64 // acres, each acre once
	undrawn bool  // some of the work has no drawn area
}

// standYear is a stand in a calendar year.
type standYear struct{ stand, year string }

// work adds the control work known in the chain, by month. An area counts in the month in which it was
// first treated in the year; repeated treatment is counted separately.
func (t *waterRows) work() {
	known, ids := map[standYear]*yearly{}, t.byID()
	for i := range t.run.Treatments {
		j := &t.run.Treatments[i]
		at := waterKey{part: WaterDone, period: j.Date.Format("2006-01"), method: j.Method, class: j.FormulationClass}
		main, most := at, int64(-1)
		for _, g := range t.grounds(j, ids) {
			g.again = t.again(i, &g, known)
			at.place, at.water = g.key.place, g.key.water
			var owner *Stand
			if on, there := ids[g.stand]; there && on.Stand >= 0 {
				owner = &t.run.Stands[on.Stand]
			}
			first, again := t.run.divided(g.acres-g.again.acres, g.weights), t.run.divided(g.again.acres, g.weights)
			for k := range g.units {
				at.unit = g.units[k]
				t.row(at).addGround(t.run, owner, first[k], again[k], &g)
				if first[k]+again[k] > most {
					main, most = at, first[k]+again[k]
				}
			}
			t.row(yearOf(at)).addGround(t.run, owner, g.acres-g.again.acres, g.again.acres, &g)
		}
		t.count(j, main)
	}
}

// yearOf returns the key of the sum for a part and year.
func yearOf(k waterKey) waterKey {
	return waterKey{part: k.part, place: AllWater, unit: allocate.Outside, period: k.period[:4], product: k.product, registration: k.registration, amountUnit: k.amountUnit}
}

// addGround adds the acres of a stand treated for the first time in the year, and those treated again.
// Work on no known stand adds no area.
func (row *waterRow) addGround(r *Run, s *Stand, first, again int64, g *worked) {
	row.acres += first
	row.repeatAcres += again
	row.areas += ones(g.stand != "" && !g.again.known)
	row.repeats += ones(g.again.known)
	row.methods, row.classes = appendSaid(row.methods, row.method), appendSaid(row.classes, row.class)
	if s != nil {
		row.parcels, row.owners = append(row.parcels, r.parcels(s)...), append(row.owners, r.owners(s)...)
	}
}

// repeated says whether a stand was treated before in the year, and how many acres of a piece of work
// were treated again.
type repeated struct {
	known bool
	acres int64
}

// again returns how much of a piece of work repeats earlier work of the year, and records the work.
func (t *waterRows) again(job int, g *worked, known map[standYear]*yearly) (again repeated) {
	if g.stand == "" {
		return again
	}
	j := &t.run.Treatments[job]
	key := standYear{g.stand, j.Date.Format("2006")}
	before := known[key]
	if again.known = before != nil; again.known {
		again.acres = g.acres - t.fresh(job, g, before)
	} else {
		before = &yearly{}
		known[key] = before
	}
	before.counted += g.acres - again.acres
	before.undrawn = before.undrawn || len(j.Ground) == 0
	return again
}

// count adds a piece of work to the row with most of its acres and to the sum of its year, and its
// product use in the same way.
func (t *waterRows) count(j *Treatment, main waterKey) {
	for _, k := range []waterKey{main, yearOf(main)} {
		row := t.row(k)
		row.jobs++
		row.noAcres += ones(!j.AcresTold())
		row.methods, row.classes = appendSaid(row.methods, j.Method), appendSaid(row.classes, j.FormulationClass)
		if !j.UsesProduct() {
			continue
		}
		k.part, k.method, k.class = WaterProduct, "", ""
		k.product, k.registration, k.amountUnit = spaced(j.Product), spaced(j.Registration), spaced(j.AmountUnit)
		row = t.row(k)
		if row.jobs == 0 {
			row.named, row.numbered, row.amountNamed = j.Product, j.Registration, j.AmountUnit
		}
		row.jobs++
		row.noAcres += ones(!j.AcresTold())
		row.noAmount += ones(math.IsNaN(j.Amount))
		row.amount += units(j.Amount, Amount)
	}
}

// appendSaid appends a word unless it is blank.
func appendSaid(words []string, word string) []string {
	if strings.TrimSpace(word) == "" {
		return words
	}
	return append(words, word)
}

// fresh returns the acres of a piece of work that were not treated before in its year. If all work on
// the stand so far in the year has drawn areas, these decide; otherwise it is what is left of the
// stand's acres.
func (t *waterRows) fresh(job int, g *worked, before *yearly) int64 {
	if share := t.run.WaterWork.Fresh[job]; share == share && !before.undrawn {
		return t.run.round(int64(math.Round(share * float64(g.acres))))
	}
	return t.run.round(min(g.acres, max(0, g.whole-before.counted)))
}

// worked is the part of a piece of work that was done on one stand.
type worked struct {
	key     waterKey // only place and water
	stand   string   // blank if the stand is not known
	acres   int64
	whole   int64 // acres of the stand
	units   []int32
	weights []int64 // by unit
	again   repeated
}

// byID indexes the stands on the map, and those known before, by id.
func (t *waterRows) byID() map[string]Ground {
	out := map[string]Ground{}
	if t.run.Previous != nil {
		for k := range t.run.Previous.Known {
			out[t.run.Previous.Known[k].ID] = Ground{Stand: -1, Known: int32(k)}
		}
	}
	for i := range t.run.Stands {
		out[t.run.Stands[i].ID] = Ground{Stand: int32(i), Known: -1}
	}
	return out
}

// grounds returns the stands on which a piece of work was done. Work that an earlier batch listed
// counts as that batch counted it, on the stands that are still known.
func (t *waterRows) grounds(j *Treatment, ids map[string]Ground) []worked {
	r, on := t.run, j.On
	if j.Carried {
		on = nil
		for _, id := range j.Told.Stands {
			if g, there := ids[id]; there {
				on = append(on, g)
			}
		}
	}
	if len(on) == 0 {
		one := worked{key: waterKey{place: WhereKnown}, acres: r.treatmentAcres(j), units: []int32{allocate.Outside}, weights: []int64{1}}
		if j.Carried && len(j.Told.Stands) > 0 { // gone, and released from follow-up
			one.stand, one.whole = j.Told.Stands[0], math.MaxInt64/4
		}
		if len(j.Told.Waters) > 0 {
			one.key.water = j.Told.Waters[0]
		}
		if !j.Carried && j.Unit >= 0 {
			one.units[0] = j.Unit
		}
		if len(j.Told.UnitIDs) > 0 {
			if k := slices.IndexFunc(r.Units, func(u unit.Unit) bool { return u.ID == j.Told.UnitIDs[0] }); k >= 0 {
				one.units[0] = int32(k)
			}
		}
		return []worked{one}
	}
	told := *j
	told.On, told.Carried = on, false
	out := make([]worked, len(on))
	for k, acres := range r.grounds(&told) {
		g := on[k]
		w := worked{stand: r.groundID(g), acres: acres, whole: r.infested(g), key: waterKey{place: AtWater, water: r.waterOf(g).Name}}
		switch {
		case g.Stand >= 0 && r.atWater(g.Stand) == OffWater, g.Stand < 0 && r.Previous.Known[g.Known].Zone <= 0:
			w.key = waterKey{place: OffWater}
		}
		if _, before := r.GroundBefore(g); before > 0 {
			w.whole = max(w.whole, geo.Acres(before).SquareMeters().Grains())
		}
		if len(r.Units) > 0 {
			for _, share := range r.unitsOf(&told, g) {
				w.units, w.weights = append(w.units, share.Unit), append(w.weights, share.Infested)
			}
		}
		if len(w.units) == 0 {
			w.units, w.weights = []int32{allocate.Outside}, []int64{1}
		}
		out[k] = w
	}
	return out
}
