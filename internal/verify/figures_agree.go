package verify

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"github.com/paulmach/orb/geojson"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
)

// figures compares the figures of a batch: its layers of present and absent stands, and its summary. A
// file that differs from the manifest is reported elsewhere.
func (r *Report) figures(layer, absent, summary []byte, m *mapfile.Manifest) {
	for _, b := range m.Balance {
		if p := Balance(b); p != "" {
			r.addf(manifestFile, "%s", p)
		}
	}
	for _, name := range []string{standsFile, summaryFile} {
		if !slices.ContainsFunc(m.Outputs, func(f mapfile.File) bool { return f.Name == name }) {
			r.addf(manifestFile, "lists no %s", name)
		}
	}
	if absent != nil {
		if gone, err := standsOf(absent, m); err != nil {
			r.addf(absentFile, "its figures cannot be read: %v", err)
		} else {
			for _, p := range Stands(gone) {
				r.addf(absentFile, "%s", p)
			}
		}
	}
	if layer == nil || summary == nil {
		return
	}
	stands, err := standsOf(layer, m)
	if err != nil {
		r.addf(standsFile, "its figures cannot be read: %v", err)
		return
	}
	for _, p := range Stands(stands) {
		r.addf(standsFile, "%s", p)
	}
	rows, err := csv.NewReader(bytes.NewReader(summary)).ReadAll()
	if err != nil || len(rows) < 2 {
		r.addf(summaryFile, "its figures cannot be read: %v", err)
		return
	}
	for _, p := range Summary(rows, stands, m.Counts) {
		r.addf(summaryFile, "%s", p)
	}
}

// standsOf reads the stands of a layer, using the names of its properties.
func standsOf(data []byte, m *mapfile.Manifest) ([]Stand, error) {
	var layer geojson.FeatureCollection
	if err := json.Unmarshal(data, &layer); err != nil {
		return nil, err
	}
	var beside struct { // the members of a feature besides its properties
		Features []struct {
			Exact *Acres `json:"exact_acres"`
		}
	}
	if err := json.Unmarshal(data, &beside); err != nil {
		return nil, err
	}
	stands := make([]Stand, len(layer.Features))
	for i, f := range layer.Features {
		s := &stands[i]
		s.ID, _ = f.Properties[field.StandID].(string)
		for name, into := range map[string]*float64{
			field.GrossAcres: &s.Gross, field.InfestedAcres: &s.Infested, field.CanopyAcres: &s.Canopy, field.ZoneAcres: &s.Zone,
		} {
			number, ok := f.Properties[name].(float64)
			if !ok {
				number = math.NaN()
			}
			*into = number
		}
		s.Zoned, _ = f.Properties[field.AquaticZone].(bool)
		s.Isolated, _ = f.Properties[field.Isolated].(bool)
		s.Carried, _ = f.Properties[field.Carried].(bool)
		s.Exact = beside.Features[i].Exact
		if m.Edition == "" { // a public edition draws grid squares
			s.Footprint = areas(f.Geometry)
		}
	}
	return stands, nil
}

// Balance says what is wrong with the mass balance of a water stage. It returns blank if released =
// settled + held + lost to age + left to nine digits, which allows for summing in another order.
func Balance(b mapfile.Balance) string {
	sum := b.Settled + b.Held + b.Aged + b.Left
	if math.Abs(sum-b.Released) <= 1e-9*math.Max(1, math.Abs(b.Released)) {
		return ""
	}
	return fmt.Sprintf("the fragments of stage %s do not add up: %v released, %v settled, held, lost to age and left", b.Stage, b.Released, sum)
}
