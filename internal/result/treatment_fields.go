package result

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"driftreach/internal/field"
	"driftreach/internal/treatment"
)

// TreatmentTable returns the table of control work known in the chain, by date. The next quarter's
// batch reads it.
func TreatmentTable(run *Run) Table {
	fields := append(workWhere(), workWhat()...)
	return Table{
		Name: "work_done", Title: "One row for each piece of control work that the chain of batches knows of, by date (with --treatments)",
		Fields: append(fields, workUsed()...), Rows: len(run.Treatments),
	}
}

func workWhere() []Field {
	of := func(r *Run, i int) *Treatment { return &r.Treatments[i] }
	placed := func(axis int) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if j := of(r, i); j.Placed {
				return number(j.Position[axis], Degrees)
			}
			return Value{}
		}
	}
	return []Field{
		{field.Date, "Date", NoUnit, Date, "Day of the work.", "",
			func(r *Run, i int) Value { return day(of(r, i).Date) }},
		{field.CountedIn, "Counted in", NoUnit, Text, "Quarter whose acres treated include it. Blank where none do: it is dated before the first batch, or was entered too late.", "",
			func(r *Run, i int) Value {
				if q := of(r, i).CountedIn; !q.IsZero() {
					return text(q.String())
				}
				return Value{}
			}},
		{field.StandID, "Stand, as entered", NoUnit, Text, "Stand that the work names; blank for none.", "",
			func(r *Run, i int) Value { return text(of(r, i).StandID) }},
		{field.Stands, "Stands", NoUnit, List, "Stands it was done on: the stand that was named, or what became of it; else the stands that its area touches; else the nearest to its position. Blank where there is no known stand.", "",
			func(r *Run, i int) Value { return list(r.place(of(r, i)).Stands) }},
		{field.WaterBodies, "Streams", NoUnit, List, "Streams that it counts on.", "",
			func(r *Run, i int) Value { return list(r.place(of(r, i)).Waters) }},
		{field.UnitIDs, "Units", NoUnit, List, "Reporting units that it counts in; blank outside all of them and without units.", "",
			func(r *Run, i int) Value { return list(r.place(of(r, i)).UnitIDs) }},
		{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude as entered, or of a place inside the area; blank for none.", "Darwin Core [P]", placed(0)},
		{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place; blank for none.", "Darwin Core [P]", placed(1)},
	}
}

// areaText returns an area as well-known text, with 7 decimals.
func areaText(area orb.MultiPolygon) string {
	if len(area) == 0 {
		return ""
	}
	at := make(orb.MultiPolygon, 0, len(area))
	for _, polygon := range area {
		rings := make(orb.Polygon, 0, len(polygon))
		for _, ring := range polygon {
			points := make(orb.Ring, len(ring))
			for k, p := range ring {
				points[k] = orb.Point{math.Round(p[0]*1e7) / 1e7, math.Round(p[1]*1e7) / 1e7}
			}
			rings = append(rings, points)
		}
		at = append(at, rings)
	}
	return wkt.MarshalString(at)
}

func workWhat() []Field {
	of := func(r *Run, i int) *Treatment { return &r.Treatments[i] }
	return []Field{
		{field.Method, "Method", NoUnit, Text, "Method; known methods are written in the same words everywhere.", "",
			func(r *Run, i int) Value { return text(of(r, i).Method) }},
		{field.FormulationClass, "Formulation class", NoUnit, Text, "Class of the formulation; known classes are written in the same words everywhere.", "",
			func(r *Run, i int) Value { return text(of(r, i).FormulationClass) }},
		{field.TreatedAcres, "Acres treated", Acres, Number, "Acres treated, as entered. Blank means not known, which is not 0.", "",
			func(r *Run, i int) Value {
				if j := of(r, i); j.AcresTold() {
					return r.acres(r.treatmentAcres(j))
				}
				return Value{}
			}},
	}
}

// workUsed are the fields for the product used and the weather, as entered.
func workUsed() []Field {
	of := func(r *Run, i int) *treatment.Application { return &r.Treatments[i].Application }
	entered := func(name, label, definition string, of func(*treatment.Application) string) Field {
		return Field{name, label, NoUnit, Text, definition, "", func(r *Run, i int) Value { return text(of(&r.Treatments[i].Application)) }}
	}
	return []Field{
		entered(field.Product, "Product", "Product, as entered; this program proposes none.", func(a *treatment.Application) string { return a.Product }),
		entered(field.RegistrationNumber, "Registration", "Registration number of the product, as entered.", func(a *treatment.Application) string { return a.Registration }),
		{field.Amount, "Amount", Amount, Number, "Amount of the product in amount_unit, as entered; never converted.", "",
			func(r *Run, i int) Value { return number(of(r, i).Amount, Amount) }},
		entered(field.AmountUnit, "Unit of the amount", "Unit of the amount, as entered.", func(a *treatment.Application) string { return a.AmountUnit }),
		entered(field.Applicator, "Applicator", "Who applied it, as entered.", func(a *treatment.Application) string { return a.Applicator }),
		entered(field.Licence, "Licence", "Licence of the applicator, as entered.", func(a *treatment.Application) string { return a.Licence }),
		entered(field.StartTime, "Start", "Time of day the work began, as entered.", func(a *treatment.Application) string { return a.Start }),
		entered(field.EndTime, "End", "Time of day it ended, as entered.", func(a *treatment.Application) string { return a.End }),
		{field.WindMps, "Wind", MetersPerSecond, Number, "Wind speed.", "", func(r *Run, i int) Value { return number(of(r, i).Wind, MetersPerSecond) }},
		{field.TemperatureC, "Temperature", Celsius, Number, "Temperature of the air.", "", func(r *Run, i int) Value { return number(of(r, i).Temperature, Celsius) }},
		{field.Hours, "Hours", Hours, Number, "Hours worked, of all people.", "", func(r *Run, i int) Value { return number(of(r, i).Hours, Hours) }},
		entered(field.PhotoNumbers, "Photo numbers", "Numbers or names of the photographs taken, as entered.", func(a *treatment.Application) string { return a.Photos }),
		{field.TreatedGround, "Ground treated", NoUnit, Text, "Area that was treated, as it was drawn, as well-known text in WGS 84 degrees; blank where none was drawn.", "OGC 06-103r4 [P]",
			func(r *Run, i int) Value { return text(areaText(r.Treatments[i].Ground)) }},
		{field.Key, "Key", NoUnit, Text, "Key made from all that was entered in the row. A row that is given again in a later quarter has the same key and counts once.", "",
			func(r *Run, i int) Value { return text(r.Treatments[i].Key) }},
	}
}

// productSum is the use of one product in one month and unit.
type productSum struct {
	month, product, registration, unit string
	jobs, noAmount, noAcres            int
	amount, acres, hours               int64 // as printed
}

// products sums up the product use known in the chain. Names, numbers and units that differ only in
// case or spaces are the same; they are written as in the first row.
func (r *Run) products() []productSum {
	var all []productSum
	at := map[string]int{}
	for i := range r.Treatments {
		j := &r.Treatments[i]
		if !j.UsesProduct() {
			continue
		}
		month := j.Date.Format("2006-01")
		key := strings.Join([]string{month, spaced(j.Product), spaced(j.Registration), spaced(j.AmountUnit)}, "\x00")
		k, there := at[key]
		if !there {
			k = len(all)
			at[key], all = k, append(all, productSum{month: month, product: j.Product, registration: j.Registration, unit: j.AmountUnit})
		}
		p := &all[k]
		p.jobs++
		p.noAmount += ones(math.IsNaN(j.Amount))
		p.noAcres += ones(!j.AcresTold())
		p.amount += units(j.Amount, Amount)
		p.acres += r.treatmentAcres(j)
		p.hours += units(j.Hours, Hours)
	}
	return all
}

// spaced returns a text in lower case with single spaces.
func spaced(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// ProductTable returns the table of products used, by month, product and unit.
func ProductTable(run *Run) Table {
	rows := sortedProducts(run.products())
	return Table{
		Name: "products_used", Title: "One row for each month, product and unit of amount, over all work of work_done.csv with a product (with --treatments)", Rows: len(rows),
		Fields: []Field{
			{field.Month, "Month", NoUnit, Text, "Month of the work, as in 2026-07.", "", func(_ *Run, i int) Value { return text(rows[i].month) }},
			{field.Product, "Product", NoUnit, Text, "Product, as entered; names that differ only in case or spaces count as one.", "", func(_ *Run, i int) Value { return text(rows[i].product) }},
			{field.RegistrationNumber, "Registration", NoUnit, Text, "Its registration number, as entered.", "", func(_ *Run, i int) Value { return text(rows[i].registration) }},
			{field.Jobs, "Treatments", NoUnit, Count, "Rows of work.", "", func(_ *Run, i int) Value { return count(rows[i].jobs) }},
			{field.JobsAmountUnknown, "Treatments without an amount", NoUnit, Count, "Rows among them without an amount: more was used than the amount shows.", "", func(_ *Run, i int) Value { return count(rows[i].noAmount) }},
			{field.Amount, "Amount", Amount, Number, "Sum of the amounts in amount_unit; amounts in other units have their own rows and are never converted. Blank where no row has one.", "",
				func(_ *Run, i int) Value {
					if rows[i].noAmount == rows[i].jobs {
						return Value{}
					}
					return fixed(rows[i].amount, Amount)
				}},
			{field.AmountUnit, "Unit of the amount", NoUnit, Text, "Unit, as entered.", "", func(_ *Run, i int) Value { return text(rows[i].unit) }},
			{field.TreatedAcres, "Acres treated", Acres, Number, "Sum of the acres of the rows.", "", func(r *Run, i int) Value { return r.acres(rows[i].acres) }},
			{field.JobsAcresUnknown, "Treatments without acres", NoUnit, Count, "Rows without acres.", "", func(_ *Run, i int) Value { return count(rows[i].noAcres) }},
			{field.Hours, "Hours", Hours, Number, "Sum of the hours of the rows.", "", func(_ *Run, i int) Value { return fixed(rows[i].hours, Hours) }},
		},
	}
}

// sortedProducts sorts rows by month, product, number and unit.
func sortedProducts(rows []productSum) []productSum {
	slices.SortFunc(rows, func(a, b productSum) int {
		return cmp.Or(strings.Compare(a.month, b.month), strings.Compare(spaced(a.product), spaced(b.product)),
			strings.Compare(spaced(a.registration), spaced(b.registration)), strings.Compare(spaced(a.unit), spaced(b.unit)))
	})
	return rows
}
