package earth

import (
	"math"

	"github.com/paulmach/orb"
)

// Frame is a local metric frame on WGS 84: x metres east and y metres north of
// its centre, in the ellipsoidal Lambert azimuthal equal-area projection. Areas
// are exact; lengths at distance d from the centre are off by at most d^2/8R^2:
// 1e-6 within 18 km, 3.1e-5 within 100 km. It covers all but the point opposite;
// centres lie within 89.9 degrees of the equator. Snyder 1987, section 24,
// equations 24-17 to 24-26.
type Frame struct {
	lon, lat         float64 // centre, degrees
	sinBeta, cosBeta float64 // authalic latitude of the centre
	xScale, yScale   float64 // Snyder's D Rq and Rq/D, metres
}

// wgs84Authalic serves every frame.
var wgs84Authalic = newAuthalic(WGS84)

// frameLimit is the highest latitude of a centre: beyond, scale along the
// meridian and across it can no longer be told apart. Our choice.
const frameLimit = 89.9

// NewFrame returns the frame centred on a point in degrees. Latitudes beyond
// 89.9 are brought to it.
func NewFrame(center orb.Point) Frame {
	lat := max(-frameLimit, min(frameLimit, center[1]))
	sin, cos := sincosDegrees(lat)
	f := Frame{lon: center[0], lat: lat}
	f.sinBeta, f.cosBeta = wgs84Authalic.sincos(sin, cos)
	r := wgs84Authalic.radius
	d := WGS84.A * cos / math.Sqrt(1-wgs84E2*sin*sin) / (r * f.cosBeta)
	f.xScale, f.yScale = r*d, r/d
	return f
}

// Center returns the point, in degrees, that the frame is centred on.
func (f Frame) Center() orb.Point { return orb.Point{f.lon, f.lat} }

// forward is Forward without a copy of the frame.
func (f *Frame) forward(p orb.Point) orb.Point {
	sin, cos := sincosDegrees(p[1])
	sinLon, cosLon := sincosDegrees(longitudeDifference(f.lon, p[0]))
	s, c := wgs84Authalic.sincos(sin, cos)
	ccos := c * cosLon
	b := math.Sqrt(2 / (1 + f.sinBeta*s + f.cosBeta*ccos))
	return orb.Point{
		f.xScale * b * c * sinLon,
		f.yScale * b * (f.cosBeta*s - f.sinBeta*ccos),
	}
}

// inverse is Inverse without a copy of the frame.
func (f *Frame) inverse(xy orb.Point) orb.Point {
	// u, v: position on the plane of the unit sphere; t = sine of half the arc
	u, v := xy[0]/f.xScale, xy[1]/f.yScale
	t2 := (u*u + v*v) / 4
	if t2 > 1 {
		return orb.Point{math.NaN(), math.NaN()}
	}
	cosArc, k := 1-2*t2, math.Sqrt(1-t2)
	east := u * k
	north := f.cosBeta*cosArc - f.sinBeta*v*k
	sin := f.sinBeta*cosArc + f.cosBeta*v*k
	lat := wgs84Authalic.latitude(sin, math.Sqrt(east*east+north*north))
	return orb.Point{
		f.lon + math.Atan2(east, north)*degreesPerRadian,
		lat * degreesPerRadian,
	}
}

// Forward returns the position of p (degrees) in the frame, in metres. Longitude
// is taken the shorter way round from the centre. Rounding is about 2e-9 m.
func (f Frame) Forward(p orb.Point) orb.Point { return f.forward(p) }

// Inverse returns the point, in degrees, at a position in the frame. Longitude
// runs on from that of the centre and may lie outside [-180, 180]: CutPolygon
// and CutLine bring it back. Error about 2e-9 m. Positions off the map give NaN.
func (f Frame) Inverse(xy orb.Point) orb.Point { return f.inverse(xy) }

// ProjectLine returns a line of degrees in the metres of the frame, vertex by
// vertex.
func (f Frame) ProjectLine(ls orb.LineString) orb.LineString { return each(ls, f.forward) }

// UnprojectLine is the inverse of ProjectLine.
func (f Frame) UnprojectLine(ls orb.LineString) orb.LineString { return each(ls, f.inverse) }

// Project returns polygons of degrees in the metres of the frame, vertex by
// vertex.
func (f Frame) Project(mp orb.MultiPolygon) orb.MultiPolygon { return eachRing(mp, f.forward) }

// Unproject is the inverse of Project.
func (f Frame) Unproject(mp orb.MultiPolygon) orb.MultiPolygon { return eachRing(mp, f.inverse) }

// each returns points run through a function.
func each[P ~[]orb.Point](points P, place func(orb.Point) orb.Point) P {
	if points == nil {
		return nil
	}
	out := make(P, len(points))
	for i, p := range points {
		out[i] = place(p)
	}
	return out
}

// eachRing returns polygons with every vertex run through a function.
func eachRing(mp orb.MultiPolygon, place func(orb.Point) orb.Point) orb.MultiPolygon {
	if mp == nil {
		return nil
	}
	out := make(orb.MultiPolygon, len(mp))
	for i, p := range mp {
		out[i] = make(orb.Polygon, len(p))
		for j, r := range p {
			out[i][j] = each(r, place)
		}
	}
	return out
}
