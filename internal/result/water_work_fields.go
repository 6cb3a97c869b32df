package result

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"driftreach/geo"
	"driftreach/internal/field"
)

// WaterWorkTable returns the table for applications for work at the water and yearly reports of it:
// what is to be treated by unit and water body, what was done by month, and the products used as
// entered.
func WaterWorkTable(run *Run) Table {
	rows := run.waterWork()
	return Table{
		Name: "water_work", Title: "One row for each unit and water body with what waits for treatment there, then by month what was done there, then each product used. The jurisdiction says which figures an application or a report needs, from which threshold and on which form",
		Fields: slices.Concat(waterWhere(rows), waterAreas(run, rows), waterLengths(rows), waterHow(rows), waterTold(rows)), Rows: len(rows),
	}
}

func waterWhere(rows []waterRow) []Field {
	return []Field{
		{field.Part, "Part", NoUnit, Text, "proposed: stands that ask for treatment, less what was treated since their survey. done: control work of all batches of the chain, by month. product: how much of one product was used in it.", "",
			func(_ *Run, i int) Value { return text(string(rows[i].part)) }},
		{field.Place, "Place", NoUnit, Text, "all: the rows of the part, or of its year, added up, each area once. at water: areas in the aquatic zone or within the farthest of water_work.distances_m of a bank. off water: areas farther from any bank. not known: work on no known stand.", "",
			func(_ *Run, i int) Value { return text(string(rows[i].place)) }},
		{field.UnitID, "Unit", NoUnit, Text, "Reporting unit (with --units); blank outside all of them. An area in two units counts in both, its acres and lengths where they lie.", "",
			func(r *Run, i int) Value { return text(r.unitID(rows[i].unit)) }},
		{"unit_name", "Unit's name", NoUnit, Text, "Its name, else its id.", "",
			func(r *Run, i int) Value { return text(r.unitName(rows[i].unit)) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Water body: for areas and work, the stream of the nearest bank; for lengths, the stream that they run along. Blank when it has no name.", "Darwin Core waterBody [P]",
			func(_ *Run, i int) Value { return text(rows[i].water) }},
		{field.Period, "Period", NoUnit, Text, "Month of work done, as in 2026-07, or its year where rows are added up; blank for what is proposed.", "",
			func(_ *Run, i int) Value { return text(rows[i].period) }},
	}
}

// distanceColumn is the name of the column of acres within a distance of a bank.
func distanceColumn(d geo.Meters) string {
	return field.AcresWithin + strings.ReplaceAll(strconv.FormatFloat(float64(d), 'f', -1, 64), ".", "_") + "_m"
}

func waterAreas(run *Run, rows []waterRow) []Field {
	notProduct := func(of func(*waterRow) Value) func(*Run, int) Value {
		return func(_ *Run, i int) Value {
			if rows[i].part == WaterProduct {
				return Value{}
			}
			return of(&rows[i])
		}
	}
	fields := []Field{
		{"areas", "Treatment areas", NoUnit, Count, "Stands. For work done, those treated for the first time in the calendar year, so that each counts once a year.", "",
			notProduct(func(w *waterRow) Value { return count(w.areas) })},
		{"areas_in_zone", "Of them in the zone", NoUnit, Count, "Areas proposed that touch the aquatic zone; blank for other parts.", "",
			proposed(rows, func(_ *Run, w *waterRow) Value { return count(w.zoneAreas) })},
		{"areas_planned", "Of them planned", NoUnit, Count, "Areas proposed that plan.csv has work on (with --budget); blank without a plan.", "",
			proposed(rows, func(r *Run, w *waterRow) Value {
				if r.Plan == nil {
					return Value{}
				}
				return count(w.planned)
			})},
		{field.Acres, "Acres", Acres, Number, "For what is proposed, the infested acres left to treat. For work done, the acres that the crews entered, each area once a year: by the ground where all work on it was drawn, else up to the acres of the stand. For work on no known stand, all acres entered.", "",
			func(r *Run, i int) Value {
				if rows[i].part == WaterProduct {
					return Value{}
				}
				return r.acres(rows[i].acres)
			}},
		{field.ZoneAcres, "Acres in the zone", Acres, Number, "Acres proposed that lie in the aquatic zone; blank for other parts.", "setback as set",
			proposed(rows, func(r *Run, w *waterRow) Value { return r.acres(w.zone) })},
	}
	if run.WaterWork == nil {
		return fields
	}
	for k, d := range run.WaterWork.Distances {
		in := strconv.FormatFloat(float64(d), 'f', -1, 64) + " m"
		fields = append(fields, Field{distanceColumn(d), "Acres within " + in, Acres, Number, "Acres proposed within " + in + " of a bank, those on the water included; blank for other parts.", "distance as set",
			proposed(rows, func(r *Run, w *waterRow) Value { return r.acres(w.within[k]) })})
	}
	return fields
}

// proposed returns a value for rows of what is to be treated; blank for others.
func proposed(rows []waterRow, of func(*Run, *waterRow) Value) func(*Run, int) Value {
	return func(r *Run, i int) Value {
		if rows[i].part != WaterProposed {
			return Value{}
		}
		return of(r, &rows[i])
	}
}

// Metres in a foot and in a mile, both international (NIST Special Publication 811, 2008, appendix B.8)
// [P].
const (
	metersInFoot = 0.3048
	metersInMile = 1609.344
)

// waterLengths are the fields for lengths along bank and channel, in three units.
func waterLengths(rows []waterRow) []Field {
	const origin = "as drawn"
	var fields []Field
	add := func(name, label, definition string, of func(*waterRow) int64) {
		meters := func(w *waterRow) float64 { return float64(of(w)) / 10 }
		fields = append(fields,
			Field{name + field.InMeters, label, Meters, Number, definition, origin, proposed(rows, func(_ *Run, w *waterRow) Value { return number(meters(w), Meters) })},
			Field{name + field.InFeet, label, Feet, Number, "The same in international feet.", origin, proposed(rows, func(_ *Run, w *waterRow) Value { return number(meters(w)/metersInFoot, Feet) })},
			Field{name + field.InMiles, label, Miles, Number, "The same in miles.", origin, proposed(rows, func(_ *Run, w *waterRow) Value { return number(meters(w)/metersInMile, Miles) })})
	}
	add(field.Bank, "Length along the bank", "Length of bank along which the proposed areas lie in the aquatic zone, each bank by itself, each metre once: channel_m, both_banks_m and shore_m added up. Blank for work done.",
		func(w *waterRow) int64 { return w.channel + w.both + w.shore })
	add(field.Channel, "Length along the channel", "Length of channel along which they lie, on one bank or both, each metre once.", func(w *waterRow) int64 { return w.channel })
	add(field.BothBanks, "Of it along both banks", "Length of channel with areas along both banks.", func(w *waterRow) int64 { return w.both })
	add(field.Shore, "Length along shores", "Length of the shores of lakes that they lie along.", func(w *waterRow) int64 { return w.shore })
	return fields
}

func waterHow(rows []waterRow) []Field {
	return []Field{
		{"proposed_months", "Proposed months", NoUnit, List, "Months in which the proposed work is allowed by --treatable: with a plan the months of the plan, without one the months of the coming year. Blank where --treatable says nothing.", "",
			func(_ *Run, i int) Value { return list(rows[i].months) }},
		{"methods", "Methods", NoUnit, List, "For proposed work the methods in --treatable, and hand pull where an area is small enough; for work done the method entered. Blank where none is known.", "",
			func(_ *Run, i int) Value { return list(rows[i].methods) }},
		{"formulation_classes", "Formulation classes", NoUnit, List, "For proposed work aquatic-labelled where an area touches the aquatic zone; for work done the class entered. No product, rate or dose is proposed.", "common practice [C]",
			func(_ *Run, i int) Value { return list(rows[i].classes) }},
		{"parcels", "Parcels", NoUnit, List, "Parcels that the stands' records name.", "",
			func(_ *Run, i int) Value { return list(rows[i].parcels) }},
		{"owners", "Owners", NoUnit, List, "Owners that the stands' records name in the column of crew.owner_column, and --treatable in its column owner.", "",
			func(_ *Run, i int) Value { return list(rows[i].owners) }},
	}
}

// waterTold are the fields for what the crews recorded.
func waterTold(rows []waterRow) []Field {
	told := func(of func(*Run, *waterRow) Value) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if rows[i].part == WaterProposed {
				return Value{}
			}
			return of(r, &rows[i])
		}
	}
	done := func(of func(*Run, *waterRow) Value) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if rows[i].part != WaterDone {
				return Value{}
			}
			return of(r, &rows[i])
		}
	}
	product := func(of func(*waterRow) Value) func(*Run, int) Value {
		return func(_ *Run, i int) Value {
			if rows[i].part != WaterProduct {
				return Value{}
			}
			return of(&rows[i])
		}
	}
	return []Field{
		{field.Jobs, "Work done", NoUnit, Count, "Rows of --treatments; each counts in the row with most of its acres.", "",
			told(func(_ *Run, w *waterRow) Value { return count(w.jobs) })},
		{field.JobsAcresUnknown, "Work without acres", NoUnit, Count, "Rows among them without acres: more was done than the acres show.", "",
			told(func(_ *Run, w *waterRow) Value { return count(w.noAcres) })},
		{"repeats", "Treated again", NoUnit, Count, "How often an area was treated again in the same calendar year.", "",
			done(func(_ *Run, w *waterRow) Value { return count(w.repeats) })},
		{field.RepeatAcres, "Acres treated again", Acres, Number, "Acres of work on ground that was already treated in the calendar year; they are not in the column acres.", "",
			done(func(r *Run, w *waterRow) Value { return r.acres(w.repeatAcres) })},
		{field.Product, "Product", NoUnit, Text, "Product, as entered; names that differ only in case or spaces count as one.", "",
			product(func(w *waterRow) Value { return text(w.named) })},
		{field.RegistrationNumber, "Registration", NoUnit, Text, "Its registration number, as entered.", "",
			product(func(w *waterRow) Value { return text(w.numbered) })},
		{field.Amount, "Amount", Amount, Number, "Sum of the amounts entered, in amount_unit; never converted. Blank where no row has one.", "",
			product(func(w *waterRow) Value {
				if w.noAmount == w.jobs {
					return Value{}
				}
				return fixed(w.amount, Amount)
			})},
		{field.AmountUnit, "Unit of the amount", NoUnit, Text, "Unit, as entered.", "",
			product(func(w *waterRow) Value { return text(w.amountNamed) })},
		{field.JobsAmountUnknown, "Work without an amount", NoUnit, Count, "Rows with the product and no amount: more was used than the amount shows.", "",
			product(func(w *waterRow) Value { return count(w.noAmount) })},
	}
}

// WaterWorkTotal is the total of what is to be treated at the water, for readers.
type WaterWorkTotal struct {
	Areas, InZone       int
	Acres, Zone         float64 // acres
	BankFeet, BankMiles float64
}

// ProposedAtWater adds up what is to be treated at the water.
func ProposedAtWater(run *Run) (t WaterWorkTotal) {
	if run.WaterWork == nil {
		return t
	}
	for i := range run.WaterWork.Areas {
		a := &run.WaterWork.Areas[i]
		if run.atWater(a.Stand) != AtWater {
			continue
		}
		s := &run.Stands[a.Stand]
		t.Areas++
		t.InZone += ones(s.Zone.InZone && a.Zone > 0)
		t.Acres += math.Max(0, 1-s.Done.Share) * float64(s.Infested.Acres())
		t.Zone += float64(a.Zone.Acres())
	}
	meters := 0.0
	for _, p := range run.WaterWork.Pieces {
		meters += float64(p.Channel+p.Both+p.Shore) / 10
	}
	t.BankFeet, t.BankMiles = meters/metersInFoot, meters/metersInMile
	return t
}
