package result

import (
	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/field"
	"driftreach/internal/margin"
)

// ranges are P10 and P90 of infested, gross and canopy acres. As for the areas themselves, canopy is at
// most infested, and gross at least infested.
type ranges struct{ infested, gross, canopy margin.Range }

// Ranges returns P10 and P90 of a row's infested, gross and canopy acres, and of its observed change,
// as printed.
func (s *Sum) Ranges() (infested, gross, canopy, observed margin.Range) {
	r := s.ranges()
	return r.infested, r.gross, r.canopy, s.Margin.observed.Change(geo.OfGrains(s.Change.Observed))
}

// Resting returns the row's infested acres that depend on a default patch, in grains.
func (s *Sum) Resting() int64 { return s.Margin.resting }

// rangesOf returns the ranges of acreages with the given errors.
func rangesOf(a allocate.Share, infested, gross, canopy *margin.Form) ranges {
	out := ranges{infested.Area(geo.OfGrains(a.Infested)), gross.Area(geo.OfGrains(a.Gross)), canopy.Area(geo.OfGrains(a.Canopy))}
	out.gross = margin.Range{P10: max(out.gross.P10, out.infested.P10), P90: max(out.gross.P90, out.infested.P90)}
	out.canopy = margin.Range{P10: min(out.canopy.P10, out.infested.P10), P90: min(out.canopy.P90, out.infested.P90)}
	return out
}

// ranges returns the ranges of a stand.
func (s *Stand) ranges() ranges {
	return rangesOf(wholeAcres(s), &s.Margin.Infested, &s.Margin.Gross, &s.Margin.Canopy)
}

// ranges returns the ranges of a row.
func (s *Sum) ranges() ranges {
	return rangesOf(allocate.Share{Gross: s.Gross, Infested: s.Infested, Canopy: s.Canopy}, &s.Margin.infested, &s.Margin.gross, &s.Margin.canopy)
}

const marginOrigin = "errors assumed [A], to first order"

// marginNote is what no range includes.
const marginNote = " Not included: plants that nobody found, ground that nobody saw, and rows of plants that errors of position split into several stands."

// rangeFields are the fields for P10 and P90 of the three acreages.
func rangeFields(of func(*Run, int) ranges) []Field {
	ranged := func(name, label, definition string, pick func(ranges) geo.SquareMeters) Field {
		return Field{name, label, Acres, Number, definition, marginOrigin,
			func(r *Run, i int) Value { return r.area(pick(of(r, i))) }}
	}
	return []Field{
		ranged(field.GrossAcresP10, "Gross area, P10", "One chance in ten that the gross acres are fewer, because of errors of position and patch and of assumed defaults. Percentiles of rows do not add up."+marginNote,
			func(r ranges) geo.SquareMeters { return r.gross.P10 }),
		ranged(field.GrossAcresP90, "Gross area, P90", "One chance in ten that the gross acres are more.", func(r ranges) geo.SquareMeters { return r.gross.P90 }),
		ranged(field.InfestedAcresP10, "Infested area, P10", "One chance in ten that the infested acres are fewer, for the reasons given at gross_acres_p10.", func(r ranges) geo.SquareMeters { return r.infested.P10 }),
		ranged(field.InfestedAcresP90, "Infested area, P90", "One chance in ten that the infested acres are more.", func(r ranges) geo.SquareMeters { return r.infested.P90 }),
		ranged(field.CanopyAcresP10, "Canopy area, P10", "One chance in ten that the canopy acres are fewer, for the reasons given at gross_acres_p10; recorded cover is taken as exact.", func(r ranges) geo.SquareMeters { return r.canopy.P10 }),
		ranged(field.CanopyAcresP90, "Canopy area, P90", "One chance in ten that the canopy acres are more.", func(r ranges) geo.SquareMeters { return r.canopy.P90 }),
	}
}

// standMargins are the fields for the ranges of a stand and for its acres that depend on defaults.
func standMargins() []Field {
	return append(rangeFields(func(r *Run, i int) ranges { return r.Stands[i].ranges() }),
		Field{field.AssumedAcres, "Rests on a default patch", Acres, Number, restingInfested, "stands.default_patch_acres [A]",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Margin.Resting.Infested) }},
		Field{field.AssumedCanopyAcres, "Canopy on defaults", Acres, Number, restingCanopy, "stands.default_patch_acres, stands.default_cover_percent [A]",
			func(r *Run, i int) Value { return r.area(r.Stands[i].Margin.Resting.Canopy) }})
}

const (
	restingInfested = "Part of infested_acres that only default patches cover, where nobody measured a patch."
	restingCanopy   = "Part of canopy_acres under patches whose area or cover is a default."
)

// liveRange is the range of a row's live acres.
func (s *Sum) liveRange() margin.Range { return s.Margin.live.Area(geo.OfGrains(s.Live())) }

// sumMargins are the fields for the ranges of a row and for its acres that depend on defaults.
func sumMargins(rows []Sum) []Field {
	return append(rangeFields(func(_ *Run, i int) ranges { return rows[i].ranges() }),
		Field{field.LiveAcresP10, "Live, P10", Acres, Number, "One chance in ten that the live acres are fewer, for the reasons given at gross_acres_p10; which stands are live is taken as recorded.", marginOrigin,
			func(r *Run, i int) Value { return r.area(rows[i].liveRange().P10) }},
		Field{field.LiveAcresP90, "Live, P90", Acres, Number, "One chance in ten that the live acres are more.", marginOrigin,
			func(r *Run, i int) Value { return r.area(rows[i].liveRange().P90) }},
		Field{field.AssumedAcres, "Rests on a default patch", Acres, Number, restingInfested, "stands.default_patch_acres [A]",
			func(r *Run, i int) Value { return r.acres(rows[i].Margin.resting) }},
		Field{field.AssumedCanopyAcres, "Canopy on defaults", Acres, Number, restingCanopy, "stands.default_patch_acres, stands.default_cover_percent [A]",
			func(r *Run, i int) Value { return r.acres(rows[i].Margin.restingCanopy) }})
}

// offByLookFields are the fields for the error of a row's acres, by quarter of survey.
func offByLookFields(rows []Sum) []Field {
	return []Field{
		{field.LiveOffByLook, "Live, off by look", NoUnit, List, "Standard deviation of live acres in independent parts: defaults, which all quarters share, then the measurements of each quarter, as \"2026Q3 0.31\". Their squares add up. A trend works out from it how far off the change between two quarters may be.", marginOrigin,
			func(r *Run, i int) Value { return list(r.offByLook(&rows[i].Margin.live)) }},
		{field.InfestedOffByLook, "Infested, off by look", NoUnit, List, "The same for infested acres.", marginOrigin,
			func(r *Run, i int) Value { return list(r.offByLook(&rows[i].Margin.infested)) }},
	}
}

// errorParts returns the independent parts of an error of acres, as printed: that of the defaults, Null
// for none, and one for each quarter of measurement.
func (r *Run) errorParts(f *margin.Form) (defaults Value, looks []quarterAcres) {
	if r.Causes == nil {
		return Value{}, nil
	}
	off := r.Causes.Split(f, r.Quarter)
	if off.Defaults != 0 {
		defaults = r.area(off.Defaults)
	}
	for _, l := range off.Looks {
		looks = append(looks, quarterAcres{l.Quarter, r.area(l.Sigma)})
	}
	return defaults, looks
}

// offByLook lists the parts of an error as "defaults 0.2" and "2026Q3 0.31".
func (r *Run) offByLook(f *margin.Form) []string {
	var out []string
	defaults, looks := r.errorParts(f)
	if defaults.Kind != Null {
		out = append(out, field.OffDefaults+" "+defaults.String())
	}
	for _, l := range looks {
		out = append(out, l.quarter.String()+" "+l.acres.String())
	}
	return out
}

// sumChangeRange is the field for the error of a row's observed change.
func sumChangeRange(rows []Sum) []Field {
	change := func(pick func(margin.Range) geo.SquareMeters) func(*Run, int) Value {
		return func(r *Run, i int) Value {
			if r.Previous == nil {
				return Value{}
			}
			return r.area(pick(rows[i].Margin.observed.Change(geo.OfGrains(rows[i].Change.Observed))))
		}
	}
	return []Field{
		{"observed_change_acres_p10", "Observed change, P10", Acres, Number, "One chance in ten that the observed change is less, because of the errors of both quarters; errors that both share drop out, such as those of defaults and of carried acres. Where no plant changed, P10 to P90 holds 0 in four of five cases. Blank in the first batch of a chain.", marginOrigin,
			change(func(r margin.Range) geo.SquareMeters { return r.P10 })},
		{"observed_change_acres_p90", "Observed change, P90", Acres, Number, "One chance in ten that the observed change is more.", marginOrigin,
			change(func(r margin.Range) geo.SquareMeters { return r.P90 })},
	}
}
