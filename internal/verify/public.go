package verify

import (
	"encoding/json"
	"maps"
	"math"
	"path"
	"slices"
	"strings"

	"github.com/paulmach/orb"
	"github.com/paulmach/orb/geojson"

	"driftreach/geo/earth"
	"driftreach/internal/field"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
)

// hidden are the columns that must be blank in a public edition.
var hidden = []string{
	field.RecordedBy, field.Parcel, field.OccurrenceRemarks, field.Contact, field.Owner, field.Permission, field.Gate, field.Access,
	field.Applicator, field.Licence, field.StartTime, field.EndTime, field.PhotoNumbers, field.PatchOutline, field.Key, field.DistanceM, field.Record, field.Value, field.File,
}

// onGrid are the layers in which every position must be a corner or the middle of a grid square.
var onGrid = []string{standsFile, absentFile, mapfile.PointsFile, mapfile.LookedFile}

// public checks a public edition: no crew files and no calendar, blank hidden columns, and the
// positions of stands and records on the grid.
func (r *Report) public(kept map[string][]byte, m *mapfile.Manifest) {
	if m.Edition != folder.Public {
		r.addf(manifestFile, "has an unknown edition: %q", m.Edition)
		return
	}
	var grid struct {
		Public struct {
			Grid float64 `json:"grid_m"`
		} `json:"public"`
	}
	text, err := json.Marshal(m.Settings)
	if err != nil || json.Unmarshal(text, &grid) != nil || !(grid.Public.Grid > 0) {
		r.addf(manifestFile, "is of a public edition but has no public.grid_m")
		return
	}
	for _, out := range m.Outputs {
		if strings.HasPrefix(path.Base(out.Name), "crew.") || out.Name == mapfile.CalendarFile {
			r.addf(out.Name, "does not belong in a public edition")
		}
	}
	for _, name := range slices.Sorted(maps.Keys(kept)) {
		if path.Ext(name) == ".csv" {
			r.blank(name, rowsOf(kept[name]))
		}
		if slices.Contains(onGrid, name) {
			r.onGrid(name, kept[name], grid.Public.Grid)
		}
	}
}

// blank reports the first cell of a hidden column that is not blank.
func (r *Report) blank(name string, rows [][]string) {
	if len(rows) == 0 {
		return
	}
	for k, column := range rows[0] {
		if !slices.Contains(hidden, column) {
			continue
		}
		for i, row := range rows[1:] {
			if row[k] != "" {
				r.addf(name, "row %d: a public edition must leave out %s", i+1, column)
				return
			}
		}
	}
}

// slack is the tolerance of a position, in halves of a square: coordinates are written in 1e-7 degrees,
// a centimetre, and squares have sides of 100 m or more.
const slack = 1e-3

// onGrid reports the first position that is neither a corner nor the middle of a grid square.
func (r *Report) onGrid(name string, layer []byte, side float64) {
	collection, err := geojson.UnmarshalFeatureCollection(layer)
	if err != nil {
		return // already reported
	}
	plane := earth.NewEqualAreaCylinder()
	for _, f := range collection.Features {
		var off *orb.Point
		each(f.Geometry, func(p orb.Point) {
			xy := plane.Forward(p)
			for _, v := range xy {
				if halves := v / side * 2; math.Abs(halves-math.Round(halves)) > slack && off == nil && !atTurn(p) {
					off = &p
				}
			}
		})
		if off != nil {
			r.addf(name, "%v is not on the grid of %g m", *off, side)
			return
		}
	}
}

// atTurn says whether a position is on the antimeridian, where shapes are cut.
func atTurn(p orb.Point) bool { return math.Abs(p[0]) == 180 }

// each visits the positions of a geometry.
func each(g orb.Geometry, visit func(orb.Point)) {
	switch g := g.(type) {
	case orb.Point:
		visit(g)
	case orb.Polygon:
		for _, ring := range g {
			for _, p := range ring {
				visit(p)
			}
		}
	case orb.MultiPolygon:
		for _, polygon := range g {
			each(polygon, visit)
		}
	}
}
