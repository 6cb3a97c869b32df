// Package margin gives the uncertainty of acreage from the data it was made from: positions,
// measured patches, and defaults where nothing was measured. It does not include plants that nobody
// found, nor ground that nobody saw.
//
// The errors, independent of each other:
//
//   - The position of every record, equal in every direction. The recorded uncertainty is
//     the radius that contains 68 % of the positions: 1.51 standard deviations of one axis.
//   - The area of every measured patch, independent of other patches.
//   - The area of all patches measured by one observer in one quarter, in common.
//   - The default patch, and the default cover: each one error, common to everything that
//     uses the default.
//
// The effect of each error on an acreage is computed to first order, from the derivatives of the
// area by every patch. The scatter of positions also has a second-order effect, which always has the
// same sign. It is estimated by random draws, and widens the range on both sides. An error common to
// several patches is summed before it is squared. A carried record keeps the errors of the quarter
// it comes from. So in a change between quarters, the errors of records in both quarters cancel, and
// those of the defaults do too.
package margin

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
)

// Stand is the uncertainty of a stand's acres, and the part of them that rests on default values.
type Stand struct {
	Infested, Gross, Canopy Form
	Resting                 stand.Resting
}

// Infested returns the error of a stand's infested acres. Takes as long as measuring the stand.
func (s *Survey) Infested(st *stand.Stand) Form {
	var out Form
	laid := st.Lay(s.Records, s.Rules)
	for k, e := range laid.Exposed() {
		s.add(&out, st.Members[k], e.Patch, e.Exposure)
	}
	out.shift = s.scattered(laid, false).Infested
	out.pack()
	return out
}

// Of returns the uncertainty of a stand's acres. Takes as long as measuring the stand.
func (s *Survey) Of(st *stand.Stand) Stand { return s.OfLaid(st.Lay(s.Records, s.Rules)) }

// OfLaid is Of a stand that is laid, as while it is measured.
func (s *Survey) OfLaid(laid *stand.Laid) Stand {
	st := laid.Stand
	out := Stand{Resting: st.Resting(s.Records, s.Rules)}
	exposed := laid.Exposed()
	gross := laid.ExposedGross(exposed)
	var area geo.SquareMeters
	for _, e := range exposed {
		area += e.Area
	}
	cover := st.CoverPercent / 100
	for k, e := range exposed {
		canopy := e.Exposure // depends on infested area, and on the patch's weight in the mean cover
		canopy.Swell *= geo.SquareMeters(cover)
		canopy.Move[0], canopy.Move[1] = canopy.Move[0]*cover, canopy.Move[1]*cover
		if area > 0 {
			canopy.Swell += st.Infested / area * (e.Canopy() - e.Area*geo.SquareMeters(cover))
			if e.CoverAssumed && e.Live && s.Settings.DefaultCover > 0 {
				out.Canopy.share(defaultCover, float64(st.Infested/area*e.Area)*s.Settings.DefaultCover/100)
			}
		}
		m := st.Members[k]
		s.add(&out.Infested, m, e.Patch, e.Exposure)
		s.add(&out.Gross, m, e.Patch, gross[k])
		s.add(&out.Canopy, m, e.Patch, canopy)
	}
	shift := s.scattered(laid, true)
	out.Infested.shift, out.Gross.shift, out.Canopy.shift = shift.Infested, shift.Gross, geo.SquareMeters(cover)*shift.Infested
	for _, f := range []*Form{&out.Infested, &out.Gross, &out.Canopy} {
		f.pack()
	}
	return out
}

// add adds the effect of one record's errors to an acreage.
func (s *Survey) add(f *Form, record int32, p stand.Patch, e shape.Exposure) {
	own, shared, cause := s.Settings.PatchOwn, s.Settings.PatchShared, s.Observers[record]
	if p.AreaAssumed {
		own, shared, cause = 0, s.Settings.DefaultPatch, defaultPatch
	}
	if shared > 0 {
		f.share(cause, shared*float64(e.Swell))
	}
	off := s.offOf(record)
	errors := [perRecord]float64{own * float64(e.Swell), off * e.Move[0], off * e.Move[1]}
	// a patch is either hidden or fully exposed, so its position error has at most half its area as
	// effect, even where the slope gives more
	if most := float64(p.Area) / 2; math.Hypot(errors[1], errors[2]) > most {
		times := most / math.Hypot(errors[1], errors[2])
		errors[1], errors[2] = times*errors[1], times*errors[2]
	}
	if s.Own != nil && s.Own[record] > 0 {
		for k, e := range errors {
			f.share(s.Own[record]+int32(k), e)
		}
		return
	}
	for _, e := range errors {
		f.own += e * e
	}
}
