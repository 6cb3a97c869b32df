package earth

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"driftreach/geo"
)

// parameterNames are the plain names of each parameter in WKT 1, ESRI and EPSG (WKT 2, PROJJSON).
var parameterNames = map[string][]string{
	"lat0": {"latitudeoforigin", "latitudeofcenter", "latitudeofcentre", "latitudeofnaturalorigin", "latitudeoffalseorigin", "latitudeofprojectioncentre"},
	"lon0": {"centralmeridian", "longitudeofcenter", "longitudeofcentre", "longitudeoforigin", "longitudeofnaturalorigin", "longitudeoffalseorigin", "longitudeofprojectioncentre", "straightverticallongitudefrompole"},
	"lat1": {"standardparallel1", "latitudeof1ststandardparallel", "latitudeofstandardparallel"},
	"lat2": {"standardparallel2", "latitudeof2ndstandardparallel"},
	"k0":   {"scalefactor", "scalefactoratnaturalorigin", "scalefactoroninitialline"},
	"fe":   {"falseeasting", "eastingatfalseorigin", "eastingatprojectioncentre"},
	"fn":   {"falsenorthing", "northingatfalseorigin", "northingatprojectioncentre"},
	// only for oblique projections
	"azimuth": {"azimuth", "azimuthofinitialline"},
	"skew":    {"rectifiedgridangle", "anglefromrectifiedtoskewgrid", "xyplanerotation"},
	// only for ColombiaUrban
	"height": {"projectionplaneoriginheight", "height"},
}

// given returns a parameter and whether the definition has it.
func (d *definition) given(parameter string) (float64, bool) {
	for _, name := range parameterNames[parameter] {
		if v, ok := d.parameters[name]; ok {
			return v, true
		}
	}
	return 0, false
}

func (d *definition) value(parameter string) float64 {
	v, _ := d.given(parameter)
	return v
}

// unknown returns a parameter that is not 0 and that no method here uses.
func (d *definition) unknown() string {
	var found []string
	method := plainName(d.method)
	skewed := strings.Contains(method, "oblique") || strings.Contains(method, "skew")
	raised := method == "colombiaurban" || method == "igacplanocartesiano"
	for name, v := range d.parameters { // sorted below
		known := false
		for parameter, names := range parameterNames {
			if !skewed && (parameter == "azimuth" || parameter == "skew") || !raised && parameter == "height" {
				continue
			}
			known = known || slices.Contains(names, name)
		}
		if !known && v != 0 {
			found = append(found, name)
		}
	}
	if len(found) == 0 {
		return ""
	}
	return slices.Min(found)
}

// project makes the projection of the definition's method.
func (d *definition) project() (Projection, error) {
	if name := d.unknown(); name != "" {
		return nil, fmt.Errorf("parameter %s of method %s: %w", name, d.method, ErrUnsupported)
	}
	p := Parameters{
		Ellipsoid: d.ellipsoid, Lat0: d.value("lat0"), Lon0: d.value("lon0"), Lat1: d.value("lat1"), Lat2: d.value("lat2"),
		K0: 1, FalseEasting: geo.Meters(d.value("fe")), FalseNorthing: geo.Meters(d.value("fn")),
	}
	p.Azimuth, p.Height0 = d.value("azimuth"), geo.Meters(d.value("height"))
	p.Skew = p.Azimuth
	if skew, given := d.given("skew"); given {
		p.Skew = skew
	}
	scale, scaled := d.given("k0")
	if scaled {
		p.K0 = scale
	}
	build := methods[plainName(d.method)]
	if build == nil {
		return nil, fmt.Errorf("method %s: %w", d.method, ErrUnsupported)
	}
	if err := d.checkAxes(p); err != nil {
		return nil, err
	}
	return build(d, p)
}

// checkAxes returns an error for grids with axes to the west or, away from the poles, to the south,
// unless the method has such axes.
func (d *definition) checkAxes(p Parameters) error {
	method := plainName(d.method)
	if strings.Contains(method, "southorient") {
		if len(d.axes) > 0 && (d.axes[0] != "west" || !slices.Equal(d.axes[1:], []string{"south"})) {
			return fmt.Errorf("axes point %s, not west and south: %w", strings.Join(d.axes, " and "), ErrUnsupported)
		}
		return nil
	}
	polar := math.Abs(p.Lat0) == 90 || strings.Contains(method, "stereographic") && !strings.HasPrefix(method, "oblique") && !strings.HasPrefix(method, "double")
	for _, axis := range d.axes {
		if axis == "west" || axis == "south" && !polar {
			return fmt.Errorf("an axis points %s: %w", axis, ErrUnsupported)
		}
	}
	return nil
}

type builder func(d *definition, p Parameters) (Projection, error)

// methods are the projections by their plain names in WKT 1, ESRI and EPSG.
var methods = map[string]builder{
	"transversemercator": transverse, "gausskruger": transverse, "transversemercatorcomplex": transverse,
	"lambertconformalconic2sp": cone2, "lambertconicconformal2sp": cone2,
	"lambertconformalconic1sp": cone1, "lambertconicconformal1sp": cone1,
	"lambertconformalconic": cone,
	"albers":                albers, "albersconicequalarea": albers, "albersequalarea": albers,
	"mercator1sp": mercator, "mercatorvarianta": mercator,
	"mercator2sp": mercatorParallel, "mercatorvariantb": mercatorParallel, "mercator": mercatorParallel,
	"popularvisualisationpseudomercator": webMercator, "mercatorauxiliarysphere": webMercator,
	"polarstereographicvarianta": polarA, "polarstereographicvariantb": polarB, "polarstereographic": polar, "stereographic": polarA,
	"stereographicnorthpole": polarB, "stereographicsouthpole": polarB,
	"lambertazimuthalequalarea": azimuthal,
	"hotineobliquemercator":     skewA, "hotineobliquemercatorvarianta": skewA,
	"hotineobliquemercatorazimuthnaturalorigin": skewA, "rectifiedskeworthomorphicnaturalorigin": skewA,
	"hotineobliquemercatorvariantb": skewB, "hotineobliquemercatorazimuthcenter": skewB,
	"rectifiedskeworthomorphiccenter": skewB, "obliquemercator": skewB,
	"obliquestereographic": double, "doublestereographic": double,
	"polyconic": polyconic, "americanpolyconic": polyconic,
	"transversemercatorsouthorientated": transverseSouth, "transversemercatorsouthoriented": transverseSouth,
	"cassinisoldner": cassini, "cassini": cassini,
	"colombiaurban": town, "igacplanocartesiano": town,
}

// transverse reads a scale below 0, as ESRI writes it, as the grid with axes to the west and south.
func transverse(_ *definition, p Parameters) (Projection, error) {
	if p.K0 < 0 {
		p.K0 = -p.K0
		return NewTransverseMercatorSouth(p)
	}
	return NewTransverseMercator(p)
}

func transverseSouth(_ *definition, p Parameters) (Projection, error) {
	return NewTransverseMercatorSouth(p)
}

func cassini(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewCassiniSoldner(p)
}

func town(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewColombiaUrban(p)
}

func cone1(_ *definition, p Parameters) (Projection, error)     { return NewLambertConformal1(p) }
func albers(_ *definition, p Parameters) (Projection, error)    { return NewAlbers(p) }
func azimuthal(_ *definition, p Parameters) (Projection, error) { return NewLambertAzimuthal(p) }
func polarA(_ *definition, p Parameters) (Projection, error)    { return NewPolarStereographicA(p) }

func skewA(d *definition, p Parameters) (Projection, error) {
	return aligned(d, p, NewObliqueMercatorA)
}
func skewB(d *definition, p Parameters) (Projection, error) {
	return aligned(d, p, NewObliqueMercatorB)
}
func double(_ *definition, p Parameters) (Projection, error) { return NewObliqueStereographic(p) }

// aligned makes an oblique Mercator for a definition that gives the direction of its line.
func aligned(d *definition, p Parameters, build func(Parameters) (ObliqueMercator, error)) (Projection, error) {
	if _, given := d.given("azimuth"); !given {
		return nil, fmt.Errorf("method %s without an azimuth: %w", d.method, ErrUnsupported)
	}
	return build(p)
}

func polyconic(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewPolyconic(p)
}

// unscaled returns an error for a scale that the method does not use.
func unscaled(p Parameters) error {
	if p.K0 != 1 {
		return fmt.Errorf("scale factor %v besides standard parallels: %w", p.K0, ErrUnsupported)
	}
	return nil
}

func cone2(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewLambertConformal2(p)
}

// cone handles ESRI's name for both variants: one standard parallel, with the latitude of origin on
// it and a scale, or two.
func cone(d *definition, p Parameters) (Projection, error) {
	if _, two := d.given("lat2"); two {
		return cone2(d, p)
	}
	if lat1, one := d.given("lat1"); one && lat1 != p.Lat0 {
		return nil, fmt.Errorf("the standard parallel %v is not the latitude of origin %v: %w", lat1, p.Lat0, ErrUnsupported)
	}
	return NewLambertConformal1(p)
}

func mercator(d *definition, p Parameters) (Projection, error) {
	if strings.Contains(d.extension, "+a=6378137 +b=6378137") {
		return webMercator(d, p)
	}
	if d.extension != "" {
		return nil, fmt.Errorf("it is overridden by %q: %w", d.extension, ErrUnsupported)
	}
	return NewMercator(p)
}

func mercatorParallel(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewMercatorParallel(p)
}

func webMercator(_ *definition, p Parameters) (Projection, error) {
	p.Ellipsoid = WebMercatorSphere
	return NewMercator(p)
}

func polarB(_ *definition, p Parameters) (Projection, error) {
	if err := unscaled(p); err != nil {
		return nil, err
	}
	return NewPolarStereographicB(p)
}

// polar handles WKT 1's name for both variants: away from the pole the latitude of origin is the
// standard parallel (as GDAL and PROJ read it).
func polar(d *definition, p Parameters) (Projection, error) {
	if math.Abs(p.Lat0) == 90 {
		return NewPolarStereographicA(p)
	}
	p.Lat1 = p.Lat0
	return polarB(d, p)
}
