package verify

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"
	"strings"

	"github.com/paulmach/orb/geojson"

	"driftreach/internal/mapfile"
)

// The files whose figures are held against each other.
const (
	summaryFile = "summary.csv"
	standsFile  = "stands.geojson"
)

// figures holds the figures of a batch against each other.
func (r *Report) figures(folder fs.FS, m *mapfile.Manifest) {
	stands, err := standsOf(folder)
	if err != nil {
		r.addf(standsFile, "its figures cannot be read: %v", reason(err))
		return
	}
	for _, p := range Stands(stands) {
		r.addf(standsFile, "%s", p)
	}
	text, err := whole(folder, summaryFile, maxChecked)
	if err != nil {
		r.addf(summaryFile, "its figures cannot be read: %v", reason(err))
		return
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) < 2 {
		r.addf(summaryFile, "its figures cannot be read: %v", err)
		return
	}
	for _, p := range Summary(rows, stands, m.Counts) {
		r.addf(summaryFile, "%s", p)
	}
	for _, b := range m.Balance {
		if p := Balance(b); p != "" {
			r.addf(ManifestName, "%s", p)
		}
	}
}

// standsOf reads the stands of the layer, by the names of its properties.
func standsOf(folder fs.FS) ([]Stand, error) {
	data, err := whole(folder, standsFile, maxChecked)
	if err != nil {
		return nil, err
	}
	var layer geojson.FeatureCollection
	if err := json.Unmarshal(data, &layer); err != nil {
		return nil, err
	}
	stands := make([]Stand, len(layer.Features))
	for i, f := range layer.Features {
		s := &stands[i]
		s.ID, _ = f.Properties["stand_id"].(string)
		for name, into := range map[string]*float64{
			"gross_acres": &s.Gross, "infested_acres": &s.Infested, "canopy_acres": &s.Canopy, "zone_acres": &s.Zone,
		} {
			number, ok := f.Properties[name].(float64)
			if !ok {
				number = math.NaN()
			}
			*into = number
		}
		s.Zoned, _ = f.Properties["aquatic_zone"].(bool)
		s.Isolated, _ = f.Properties["isolated"].(bool)
		s.Carried, _ = f.Properties["carried"].(bool)
		s.Footprint = areas(f.Geometry)
	}
	return stands, nil
}

// Balance says what is wrong with the mass balance of a water stage; blank when
// released = settled + held + lost to age + left to nine digits, which is what
// summing in another order may take.
func Balance(b mapfile.Balance) string {
	sum := b.Settled + b.Held + b.Aged + b.Left
	if math.Abs(sum-b.Released) <= 1e-9*math.Max(1, math.Abs(b.Released)) {
		return ""
	}
	return fmt.Sprintf("the fragments of stage %s do not add up: %v released, %v settled, held, lost to age and left", b.Stage, b.Released, sum)
}

// plural returns a count with its noun.
func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, strings.TrimSpace(noun))
}
