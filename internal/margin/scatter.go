package margin

import (
	"math/rand/v2"

	"driftreach/geo"
	"driftreach/internal/stand"
)

// moves is how many times the positions of a stand are drawn, each there and back, to
// tell by how much their scatter itself moves its areas. Our choice: in the sum over some
// stands the slopes have cancelled, and each more costs another measuring of them all.
const moves = 2

// scattered adds the mean shift that the scatter of positions makes of a stand's areas:
// patches in rows overlap less when they are scattered, touching ones more, and gaps
// close. It hangs on the stand's own records alone.
func (s *Survey) scattered(st *stand.Stand, gross bool) stand.Areas {
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
	return st.Scattered(s.Records, s.Rules, drawn, gross)
}

// offOf returns the standard deviation of a record's position, of either axis, in metres.
func (s *Survey) offOf(record int32) float64 {
	radius := s.Records[record].Uncertainty
	if !(radius > 0) {
		radius = s.Settings.Position
	}
	return float64(radius) / axis
}

// shifted widens a range by the mean shift of scatter, to either side: whether the
// places that were recorded are scattered about the plants' more or less regular ones
// already, nobody knows.
func (f *Form) shifted(r Range) Range {
	off := max(f.shift, -f.shift)
	return Range{max(0, r.P10-geo.SquareMeters(off)), r.P90 + geo.SquareMeters(off)}
}
