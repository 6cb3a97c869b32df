package earlier

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/encoding/wkt"

	"driftreach/geo/shape"
	"driftreach/internal/check"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// jobs reads the control work known in the chain; none if no batch of it had any.
func (e *opened) jobs() ([]result.Treatment, error) {
	if _, there := e.outputs[mapfile.WorkFile]; !there {
		return nil, nil
	}
	text, err := e.text(mapfile.WorkFile)
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, e.damaged(fmt.Sprintf("%s cannot be read: %v", mapfile.WorkFile, err))
	}
	if len(rows) == 0 {
		return nil, e.damaged(mapfile.WorkFile + " cannot be read: it is empty")
	}
	at := columnsOf(rows[0])
	jobs := make([]result.Treatment, 0, len(rows)-1)
	for i, row := range rows[1:] {
		j, err := jobOf(at, row)
		if err != nil {
			return nil, e.damaged(fmt.Sprintf("%s: row %d: %v", mapfile.WorkFile, i+1, err))
		}
		j.File, j.Row = e.shown(mapfile.WorkFile), i+1
		jobs = append(jobs, j)
	}
	return jobs, nil
}

// jobOf reads one row of work_done.csv.
func jobOf(at columns, row []string) (result.Treatment, error) {
	var failed error
	text := func(name string) string { return check.FromCell(at.cell(row, name)) }
	number := func(name string) float64 {
		cell := text(name)
		if cell == "" {
			return math.NaN()
		}
		x, err := strconv.ParseFloat(cell, 64)
		if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
			failed = fmt.Errorf("%s: %q is not a figure that this program writes", name, cell)
		}
		return x
	}
	words := func(name string) []string {
		if cell := text(name); cell != "" {
			return strings.Split(cell, "; ")
		}
		return nil
	}
	j := result.Treatment{Carried: true, Unit: result.UnknownUnit, Told: result.Place{Stands: words(field.Stands), Waters: words(field.WaterBodies), UnitIDs: words(field.UnitIDs)}}
	j.Treatment = treatment.Treatment{
		StandID: text(field.StandID), Method: text(field.Method), FormulationClass: text(field.FormulationClass), TreatedAcres: number(field.TreatedAcres),
		Application: treatment.Application{
			Product: text(field.Product), Registration: text(field.RegistrationNumber), Amount: number(field.Amount), AmountUnit: text(field.AmountUnit),
			Applicator: text(field.Applicator), Licence: text(field.Licence), Start: text(field.StartTime), End: text(field.EndTime),
			Wind: number(field.WindMps), Temperature: number(field.TemperatureC), Hours: number(field.Hours), Photos: text(field.PhotoNumbers),
		},
	}
	lon, lat := number(field.DecimalLongitude), number(field.DecimalLatitude)
	if j.Placed = !math.IsNaN(lon) && !math.IsNaN(lat); j.Placed {
		j.Position = orb.Point{lon, lat}
	}
	if area := text(field.TreatedGround); area != "" {
		ground, err := wkt.UnmarshalMultiPolygon(area)
		if err != nil || len(ground) == 0 {
			failed = errors.New("treated_ground is no area of ours")
		}
		j.Ground, _ = shape.MakeValid(ground) // repair the effects of rounding
	}
	if j.Key = text(field.Key); j.Key == "" {
		failed = errors.New("it has no key")
	}
	var err error
	if j.Date, err = time.Parse(time.DateOnly, text(field.Date)); err != nil {
		failed = fmt.Errorf("date: %q is no day", text(field.Date))
	}
	if q := text(field.CountedIn); q != "" {
		if j.CountedIn, err = survey.ParseQuarter(q); err != nil {
			failed = fmt.Errorf("counted_in: %q is no quarter", q)
		}
	}
	return j, failed
}
