package intake

import (
	"strings"

	"github.com/paulmach/orb"

	"driftreach/internal/format"
)

// needPositions refuses a file whose records have no position: a table with neither position columns nor
// geometries, or features of which none is a point, a line or an area. The remedy names the settings
// section and the kind of file that is needed.
func (r *featureReader) needPositions(position [2]int, section, wanted string) error {
	noColumns := !r.columns.Has(position[0]) || !r.columns.Has(position[1])
	switch {
	case r.Tabular() && noColumns && r.GeometryColumn < 0:
		return r.Unusable("header", "there are no columns for longitude and latitude and none of geometry among: "+format.Shorten(strings.Join(r.Schema.Names, ", ")),
			"name the columns decimalLongitude and decimalLatitude, map them under [columns."+section+"], or give the places as well-known text in a column called WKT")
	case r.features > 0 && r.wrongKind == r.features:
		return r.Unusable("", "no feature is a point, a line or an area", "name a file of "+wanted)
	}
	return nil
}

// columnPlace returns the position from the columns of a feature without geometry. For a feature with
// one it returns nothing. False means that the feature was rejected.
func (r *featureReader) columnPlace(f *format.Feature, position [2]int) (orb.MultiPoint, bool) {
	var at orb.Point
	switch {
	case r.rejectFeature(f, anyShape):
		return nil, false
	case f.Shape.Kind != format.NoShape:
		return nil, true
	case !r.columns.Has(position[0]):
		r.reject(f, ruleEmpty, "geometry", "", "the feature has no geometry")
		return nil, false
	case !r.position(f, position, &at):
		return nil, false
	}
	return orb.MultiPoint{at}, true
}
