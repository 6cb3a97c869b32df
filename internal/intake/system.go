package intake

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

// ask takes the reference system that the user named for the file.
func (r *reading) ask(definition string) error {
	if definition == "" {
		return nil
	}
	c, err := earth.ParseCRS(definition)
	if err != nil {
		return r.unusable("", "the reference system asked for cannot be used: "+trimmed(err), SystemRemedy(err))
	}
	r.asked, r.system = true, c
	r.tellDatum()
	return nil
}

// refer takes what the file says of its own reference system; what the user
// asked for wins over it.
func (r *reading) refer(place, definition string) error {
	c, err := earth.ParseCRS(definition)
	if r.asked {
		if err != nil || c.Name != r.system.Name {
			r.reportFile(ruleSystemOther, "", shorten(strings.TrimSpace(definition)), "the file names another reference system; the one asked for was used")
		}
		return nil
	}
	if err != nil {
		return r.unusable(place, trimmed(err), SystemRemedy(err))
	}
	r.system = c
	r.tellDatum()
	return nil
}

// fixed notes that the format knows WGS 84 only.
func (r *reading) fixed() {
	if r.asked && !r.system.IsWGS84() {
		r.reportFile(ruleSystemOther, "", r.system.Name, r.traits.name+" is always WGS 84 degrees; the reference system asked for was not used")
	}
	r.asked, r.system = true, earth.CRS{Name: "WGS 84"}
}

// assumeSystem is for a file of a format that should name its system and does not. The
// box is that of all positions, when the file tells it.
func (r *reading) assumeSystem(place string, box orb.Bound) error {
	if r.asked {
		return nil
	}
	// a full turn, as where positions are checked
	if max(math.Abs(box.Min[0]), math.Abs(box.Max[0])) > 360 || max(math.Abs(box.Min[1]), math.Abs(box.Max[1])) > 90 {
		return r.unusable(place, "the file names no reference system, and its coordinates are no degrees", "put its .prj file beside it, or name its system with --points-crs, --streams-crs and so on, as in EPSG:26911")
	}
	r.reportFile(ruleSystemAssumed, "", "", "the file names no reference system; its positions were read as WGS 84 degrees")
	return nil
}

func (r *reading) tellDatum() {
	if r.system.Datum != "" {
		r.reportFile(ruleDatum, "", r.system.Name, fmt.Sprintf("positions on the datum %s were taken as WGS 84; by convention the two are equal, in truth they lie up to 2 m apart", r.system.Datum))
	}
}

// trimmed is an error's text without the sentinel at its end.
func trimmed(err error) string {
	return shortenTo(strings.TrimSuffix(err.Error(), ": "+earth.ErrUnsupported.Error()), 200)
}

// degrees turns the feature's positions into WGS 84 degrees. What is no number
// stays so, and so does 0, 0, which is what a unit without a fix records.
func (r *reading) degrees(s *shape) {
	if r.system.IsWGS84() || r.system.IsGeographic() && r.system.Name == "" {
		return
	}
	for i, p := range s.points {
		q, err := r.toDegrees(p)
		if err != nil && s.wrong == "" {
			s.wrong = err.Error()
		}
		s.points[i] = q
	}
}

// toDegrees turns a position into WGS 84 degrees, as degrees does those of a shape.
func (r *reading) toDegrees(p orb.Point) (orb.Point, error) {
	if math.IsNaN(p[0]-p[0]) || math.IsNaN(p[1]-p[1]) || p == (orb.Point{}) {
		return p, nil
	}
	q, err := r.system.Degrees(p)
	if errors.Is(err, earth.ErrOutside) {
		err = fmt.Errorf("the position %g, %g lies outside %s", p[0], p[1], r.system.Name)
	}
	if r.system.IsGeographic() {
		return q, err
	}
	return orb.Point{math.Round(q[0]*steps) / steps, math.Round(q[1]*steps) / steps}, err
}

// steps is how many steps a degree has that converted positions are rounded to.
// Our choice: 0.1 mm, below any survey and above the arithmetic, so that a place
// comes out the same from every reference system.
const steps = 1e9

// systemName is what the file was read in.
func (r *reading) systemName() string {
	if r.system.Name == "" {
		return "WGS 84"
	}
	return r.system.Name
}
