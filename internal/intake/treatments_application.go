package intake

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/treatment"
)

// application reads the products used and the weather, as they were entered.
func (r *treatmentReader) application(f *format.Feature) treatment.Application {
	a := treatment.Application{
		Product: r.entered(f, treatmentProduct), Registration: r.entered(f, treatmentRegistration),
		AmountUnit: r.entered(f, treatmentAmountUnit), Applicator: r.entered(f, treatmentApplicator), Licence: r.entered(f, treatmentLicence),
		Start: r.clock(f, treatmentStart), End: r.clock(f, treatmentEnd),
		Wind: r.number(f, treatmentWind), Temperature: r.number(f, treatmentTemperature), Hours: r.number(f, treatmentHours),
		Photos: r.entered(f, treatmentPhotos),
	}
	var unit string
	if a.Amount, unit = r.amount(f); unit != "" && a.AmountUnit == "" {
		a.AmountUnit = unit
	}
	return a
}

// entered returns a text as it was entered; blank if it is only a word for blank.
func (r *treatmentReader) entered(f *format.Feature, field int) string {
	text := r.columns.Cell(f, field)
	if cell.IsBlank(text) {
		return ""
	}
	return strings.TrimSpace(r.store.keep(wholeText(text)))
}

// amount reads the amount of a product and its unit: the one in the cell or, if there is none, the one
// in the settings or the column name. Nothing is converted.
func (r *treatmentReader) amount(f *format.Feature) (v float64, unit string) {
	text := r.columns.Cell(f, treatmentAmount)
	v, kind := cell.ParseNumberIn(f, text, r.Comma)
	switch kind {
	case cell.BlankNumber:
		return v, ""
	case cell.NotFinite:
		r.report(f, ruleNotFinite, "amount", string(text), "amount is not a finite number; the value was left out")
		return math.NaN(), ""
	case cell.BadNumber:
		q, ok := cell.ParseQuantityIn(f, text, r.Comma)
		if !ok {
			r.report(f, ruleNumber, "amount", string(text), "amount is no number; the value was left out")
			return math.NaN(), ""
		}
		if q.Told != "" {
			r.report(f, ruleApproximate, "amount", string(text), fmt.Sprintf("amount was read as %s, %s", check.Digits(q.Value, 6), q.Told))
		}
		if v = q.Value; q.Unit != "" {
			whole := strings.TrimSuffix(strings.TrimSpace(string(text)), ".")
			return v, r.store.keep([]byte(whole[max(0, len(whole)-len(q.Unit)):]))
		}
	}
	return v, r.amountUnit
}

// clock reads a time of day as it was entered. A spreadsheet's fraction of a day is converted to hours
// and minutes.
func (r *treatmentReader) clock(f *format.Feature, field int) string {
	text := r.entered(f, field)
	if part, err := strconv.ParseFloat(text, 64); err == nil && part > 0 && part < 1 && strings.Contains(text, ".") {
		minutes := int(part*24*60 + 0.5)
		return fmt.Sprintf("%02d:%02d", minutes/60%24, minutes%60)
	}
	return text
}

// applicationValue returns the value of a field of an application, as it was understood.
func applicationValue(a *treatment.Application, field string) string {
	for name, text := range map[string]string{ // at most one matches
		"product": a.Product, "registration_number": a.Registration, "amount_unit": a.AmountUnit, "applicator": a.Applicator,
		"licence": a.Licence, "start_time": a.Start, "end_time": a.End, "photo_numbers": a.Photos,
	} {
		if name == field {
			return text
		}
	}
	v, ok := map[string]float64{"amount": a.Amount, "wind_mps": a.Wind, "temperature_c": a.Temperature, "hours": a.Hours}[field]
	if !ok {
		return ""
	}
	return numberText(v)
}
