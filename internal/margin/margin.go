// Package margin says how far off acreage may be for what it was made from: positions,
// measured patches, and defaults where nobody measured. Plants that nobody found, and
// ground that nobody saw, are in none of it.
//
// The errors, independent of each other:
//
//   - The position of every record, alike in each direction. What is recorded is the
//     radius that holds 68 % of the positions, which is 1.51 standard deviations of
//     one axis.
//   - The area of every measured patch, by itself.
//   - The area of all patches that one observer measured in one quarter, together.
//   - The default patch, and the default cover, each one error for all that rest on it.
//
// What each error does to an acreage is taken to first order: from the derivatives of
// the area by every patch. What the scatter of all positions does besides, which is of
// second order and of one sign, is drawn, and widens the range either way. An error that several patches share is added up before it
// is squared. A record that is carried has the errors of the quarter it is from, so
// that in a change what is in both quarters drops out, as the defaults do.
package margin

import (
	"math"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Stand is how far off the acres of a stand may be, and how much of them rests on
// nothing measured.
type Stand struct {
	Infested, Gross, Canopy Form
	Resting                 stand.Resting
}

// Survey is records with the errors they share.
type Survey struct {
	Records   []survey.Record
	Observers []int32 // by record, as Causes.Of returns
	Own       []int32 // by record, as Causes.OwnOf returns; nil where no record has a copy
	Rules     stand.Settings
	Settings  Settings
}

// axis is how many standard deviations of one axis the radius is that holds 68 % of
// positions which scatter alike in both: sqrt(-2 ln 0.32).
var axis = math.Sqrt(-2 * math.Log(0.32))

// Infested returns how far off a stand's infested acres may be. Cost of measuring the
// stand.
func (s *Survey) Infested(st *stand.Stand) Form {
	var out Form
	for k, e := range st.Exposed(s.Records, s.Rules) {
		s.add(&out, st.Members[k], e.Patch, e.Exposure)
	}
	out.shift = float64(s.scattered(st, false).Infested)
	out.pack()
	return out
}

// Of returns how far off a stand's acres may be. Cost of measuring the stand.
func (s *Survey) Of(st *stand.Stand) Stand {
	out := Stand{Resting: st.Resting(s.Records, s.Rules)}
	exposed := st.Exposed(s.Records, s.Rules)
	gross := st.ExposedGross(s.Records, exposed, s.Rules)
	var area geo.SquareMeters
	for _, e := range exposed {
		area += e.Area
	}
	cover := st.CoverPercent / 100
	for k, e := range exposed {
		canopy := e.Exposure // as infested area does, and as the patch weighs in the mean cover
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
	shift := s.scattered(st, true)
	out.Infested.shift, out.Gross.shift, out.Canopy.shift = float64(shift.Infested), float64(shift.Gross), cover*float64(shift.Infested)
	for _, f := range []*Form{&out.Infested, &out.Gross, &out.Canopy} {
		f.pack()
	}
	return out
}

// add adds what the errors of one record do to an acreage.
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
	// a patch is hidden, or all of it shows: half of it is the most that its place is
	// off by, where the slope would say more
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
