package drift

import (
	"math"

	"driftreach/geo"
)

// The units of the drift. Each has its own type, so that the compiler rejects a share where days
// are needed, and an amount where an exposure is.
type (
	// Days is a time afloat.
	Days float64
	// Factor is what something is multiplied by; 1 leaves it as it is.
	Factor float64
	// PerMeter is a first-order loss: after x metres exp(-loss times x) is still afloat.
	PerMeter float64
	// Amount is how many fragments: a relative index, canopy acres times PerAcre.
	Amount float64
	// PerAcre is the amount that an acre of canopy releases.
	PerAcre float64
	// AmountKm is an exposure: the amount afloat summed over every kilometre of stream.
	AmountKm float64
	// DrawnExposure is an AmountKm of one draw: 7 digits are more than the draws justify.
	DrawnExposure float32
)

// drawnReach is a length of stream of one draw, in kilometres, with as many digits as DrawnExposure.
type drawnReach float32

// toll is -ln of the share still afloat. It adds up along a path as shares multiply.
type toll float64

// Hours returns d in hours.
func (d Days) Hours() geo.Hours { return geo.Hours(d * 24) }

// part returns a share of a.
func (a Amount) part(s geo.Share) Amount { return a * Amount(s) }

// Over returns the exposure that a makes if a unit of it makes a given number of kilometres.
func (a Amount) Over(unit geo.Kilometers) AmountKm { return AmountKm(float64(a) * float64(unit)) }

// Times returns e by a factor.
func (e AmountKm) Times(f Factor) AmountKm { return e * AmountKm(f) }

// Per returns the mean amount afloat on a way that has e.
func (e AmountKm) Per(way geo.Kilometers) Amount { return Amount(float64(e) / float64(way)) }

// left returns the share still afloat after a way.
func (k PerMeter) left(way geo.Meters) geo.Share {
	return geo.Share(math.Exp(-float64(k) * float64(way)))
}

// toll returns the toll of a way.
func (k PerMeter) toll(way geo.Meters) toll { return toll(float64(k) * float64(way)) }

// settlesIn returns the way over which from falls to floor.
func (k PerMeter) settlesIn(from, floor Amount) geo.Meters {
	return geo.Meters(math.Log(float64(from/floor)) / float64(k))
}

// tollOf returns the toll that leaves a share.
func tollOf(s geo.Share) toll {
	if s == 1 {
		return 0
	}
	return toll(-math.Log(float64(s)))
}

// share returns the share left after a toll.
func (t toll) share() geo.Share { return geo.Share(math.Exp(-float64(t))) }

// losses is the loss of every edge, as geo/flow holds it.
type losses []float64

// on returns the loss of one edge.
func (l losses) on(edge int32) PerMeter { return PerMeter(l[edge]) }

// never is the cost of a release that does not arrive.
var never = toll(math.Inf(1))

// nothing is the share left on an edge where nothing is afloat.
const nothing = -1
