package format

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// SystemRemedy returns what to do about a reference system that cannot be read.
func SystemRemedy(err error) string {
	if errors.Is(err, earth.ErrDatum) {
		return "convert the file to WGS 84 longitude and latitude with a program that applies the shift, as in ogr2ogr -t_srs EPSG:4326 new.gpkg old.shp; or name its true system, if it is another, with --points-crs, --streams-crs and so on"
	}
	return "name the file's system with --points-crs, --streams-crs and so on, as in EPSG:26911 or as a .prj file; or convert the file to WGS 84 longitude and latitude"
}

// Ask takes the reference system that the user named for the file.
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

// Refer takes what the file says of its own reference system; what the user
// asked for wins over it.
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

// Fixed notes that the format knows WGS 84 only.
func (r *Reading) Fixed() {
	if r.Asked && !r.System.IsWGS84() {
		r.ReportFile(ruleSystemOther, "", r.System.Name, r.Traits.Name+" is always WGS 84 degrees; the reference system asked for was not used")
	}
	r.Asked, r.System = true, earth.CRS{Name: "WGS 84"}
}

// AssumeSystem is for a file of a format that should name its system and does not. The
// box is that of all positions, when the file tells it.
func (r *Reading) AssumeSystem(place string, box orb.Bound) error {
	if r.Asked {
		return nil
	}
	// a full turn, as where positions are checked
	if max(math.Abs(box.Min[0]), math.Abs(box.Max[0])) > 360 || max(math.Abs(box.Min[1]), math.Abs(box.Max[1])) > 90 {
		return r.Unusable(place, "the file names no reference system, and its coordinates are no degrees", "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911")
	}
	r.ReportFile(ruleSystemAssumed, "", "", "the file names no reference system; its positions were read as WGS 84 degrees")
	return nil
}

func (r *Reading) tellDatum() {
	if r.System.Datum != "" {
		r.ReportFile(ruleDatum, "", r.System.Name, fmt.Sprintf("positions on the datum %s were taken as WGS 84; by convention the two are equal, in truth they lie up to 2 m apart", r.System.Datum))
	}
}

// trimmed is an error's text without the sentinel at its end.
func trimmed(err error) string {
	return ShortenTo(strings.TrimSuffix(err.Error(), ": "+earth.ErrUnsupported.Error()), 200)
}

// Degrees turns the feature's positions into WGS 84 degrees. What is no number
// stays so, and so does 0, 0, which is what a unit without a fix records.
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

// ToDegrees turns a position into WGS 84 degrees, as degrees does those of a shape.
func (r *Reading) ToDegrees(p orb.Point) (orb.Point, error) {
	if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) || p == (orb.Point{}) {
		return p, nil
	}
	q, err := r.System.Degrees(p)
	if errors.Is(err, earth.ErrOutside) {
		err = fmt.Errorf("the position %g, %g lies outside %s", p[0], p[1], r.System.Name)
	}
	if r.System.IsGeographic() {
		return q, err
	}
	return orb.Point{math.Round(q[0]*steps) / steps, math.Round(q[1]*steps) / steps}, err
}

// steps is how many steps a degree has that converted positions are rounded to.
// Our choice: 0.1 mm, below any survey and above the arithmetic, so that a place
// comes out the same from every reference system.
const steps = 1e9

// SystemName is what the file was read in.
func (r *Reading) SystemName() string {
	if r.System.Name == "" {
		return "WGS 84"
	}
	return r.System.Name
}
