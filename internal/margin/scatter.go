package margin

import (
	"math/rand/v2"

	"driftreach/internal/stand"
)

// moves is the number of random draws of a stand's positions, each applied in both directions, to
// estimate the shift of its areas by scatter. Our choice: summed over some stands the linear
// effects have cancelled, and each further draw measures all stands again.
const moves = 2

// scattered returns the mean shift of a stand's areas caused by the scatter of positions: scattered
// patches in rows overlap less, touching patches overlap more, and gaps close. It depends only on
// the stand's own records.
func (s *Survey) scattered(st *stand.Laid, gross bool) stand.Areas {
	if len(st.Members) < 2 {
		return stand.Areas{}
	}
	dice := rand.New(rand.NewPCG(uint64(len(st.Members)), 17))
	drawn := make([][][2]float64, moves)
	for k := range drawn {
		drawn[k] = make([][2]float64, len(st.Members))
		for i, m := range st.Members {
			off := s.offOf(m)
			drawn[k][i] = [2]float64{off * dice.NormFloat64(), off * dice.NormFloat64()}
		}
	}
	return st.Scattered(drawn, gross)
}

// offOf returns the standard deviation of a record's position in either axis, in metres.
func (s *Survey) offOf(record int32) float64 {
	radius := s.Records[record].Uncertainty
	if !(radius > 0) {
		radius = s.Settings.Position
	}
	return float64(radius) / axis
}
