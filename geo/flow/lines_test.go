package flow

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// plain returns a line with nothing recorded but a path.
func plain(name string, path ...orb.Point) Line {
	return Line{Name: name, Path: path, Sequence: math.NaN(), Share: math.NaN(), Area: geo.SquareKilometers(math.NaN())}
}

// meters returns km in metres.
func meters(km float64) geo.Meters { return geo.Meters(km * 1000) }
