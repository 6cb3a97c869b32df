package format

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// SystemRemedy returns what the user can do about a reference system that cannot be read.
func SystemRemedy(err error) string {
	if errors.Is(err, earth.ErrDatum) {
		return "convert the file to WGS 84 longitude and latitude with a program that applies the shift, as in ogr2ogr -t_srs EPSG:4326 new.gpkg old.shp; or name its true system, if it is another, with --points-crs, --streams-crs and so on"
	}
	return "name the file's system with --points-crs, --streams-crs and so on, as in EPSG:26911 or as a .prj file; or convert the file to WGS 84 longitude and latitude"
}

// Ask sets the reference system that the user named for the file.
func (r *Reading) Ask(definition string) error {
	if definition == "" {
		return nil
	}
	c, err := earth.ParseCRS(definition)
	if err != nil {
		return r.Unusable("", "the reference system asked for cannot be used: "+trimmed(err), SystemRemedy(err))
	}
	r.Asked, r.System = true, c
	r.tellDatum()
	return nil
}

// Refer sets the reference system that the file declares. The one that the user named takes precedence.
func (r *Reading) Refer(place, definition string) error {
	c, err := earth.ParseCRS(definition)
	if r.Asked {
		if err != nil || c.Name != r.System.Name {
			r.ReportFile(ruleSystemOther, "", Shorten(strings.TrimSpace(definition)), "the file names another reference system; the one asked for was used")
		}
		return nil
	}
	if err != nil {
		return r.Unusable(place, trimmed(err), SystemRemedy(err))
	}
	r.System = c
	r.tellDatum()
	return nil
}

// Fixed records that the format is always in WGS 84.
func (r *Reading) Fixed() {
	if r.Asked && !r.System.IsWGS84() {
		r.ReportFile(ruleSystemOther, "", r.System.Name, r.Traits.Name+" is always WGS 84 degrees; the reference system asked for was not used")
	}
	r.Asked, r.System = true, earth.CRS{Name: "WGS 84"}
}

// AssumeSystem handles a file that declares no reference system although its format provides for one.
// box is the extent of all positions, if the file gives it.
func (r *Reading) AssumeSystem(place string, box orb.Bound) error {
	if r.Asked {
		return nil
	}
	// a full turn is the limit, as in the check of positions
	if max(math.Abs(box.Min[0]), math.Abs(box.Max[0])) > 360 || max(math.Abs(box.Min[1]), math.Abs(box.Max[1])) > 90 {
		return r.Unusable(place, "the file names no reference system, and its coordinates are not degrees", "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911")
	}
	r.ReportFile(ruleSystemAssumed, "", "", "the file names no reference system; its positions were read as WGS 84 degrees")
	return nil
}

func (r *Reading) tellDatum() {
	if r.System.Datum != "" {
		r.ReportFile(ruleDatum, "", r.System.Name, fmt.Sprintf("positions on the datum %s were taken as WGS 84; by convention the two are equal, in truth they lie up to 2 m apart", r.System.Datum))
	}
}

// trimmed returns an error's text without the sentinel error at its end.
func trimmed(err error) string {
	return ShortenTo(strings.TrimSuffix(err.Error(), ": "+earth.ErrUnsupported.Error()), 200)
}

// Degrees converts the feature's positions to WGS 84 degrees. NaN stays NaN, and 0, 0 stays 0, 0: it is
// what a GPS unit without a fix records.
func (r *Reading) Degrees(s *Shape) {
	if r.System.IsWGS84() || r.System.IsGeographic() && r.System.Name == "" {
		return
	}
	for i, p := range s.Points {
		q, err := r.ToDegrees(p)
		if err != nil && s.Wrong == "" {
			s.Wrong = err.Error()
		}
		s.Points[i] = q
	}
}

// ToDegrees converts one position to WGS 84 degrees, as Degrees does for a shape.
func (r *Reading) ToDegrees(p orb.Point) (orb.Point, error) {
	if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) || p == (orb.Point{}) {
		return p, nil
	}
	q, err := r.System.Degrees(p)
	if errors.Is(err, earth.ErrOutside) {
		err = fmt.Errorf("the position %s, %s lies outside %s", strconv.FormatFloat(p[0], 'f', -1, 64), strconv.FormatFloat(p[1], 'f', -1, 64), r.System.Name)
	}
	if r.System.IsGeographic() {
		return q, err
	}
	return orb.Point{math.Round(q[0]*steps) / steps, math.Round(q[1]*steps) / steps}, err
}

// steps is the rounding of converted positions, in steps per degree. Our choice: 0.1 mm, finer than any
// survey and coarser than the errors of the arithmetic, so that a place has the same coordinates
// whatever reference system it is read from.
const steps = 1e9

// SystemName names the reference system in which the file was read.
func (r *Reading) SystemName() string {
	if r.System.Name == "" {
		return "WGS 84"
	}
	return r.System.Name
}
