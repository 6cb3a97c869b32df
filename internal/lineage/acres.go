package lineage

import "math"

// perAcre is how many units of the fixed point that acres are printed in make an
// acre.
const perAcre = 1e4

// InfestedAcres returns the infested area as it was printed, in units of 1e-4
// acres.
func (k *Known) InfestedAcres() int64 {
	return int64(math.Round(float64(k.Infested.Acres()) * perAcre))
}
