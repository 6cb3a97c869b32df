package result

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/field"
)

// PartOfStand is the treated or the untreated part of a stand that was treated in part since its
// survey.
type PartOfStand struct {
	Stand   int32 // index into Run.Stands
	Visit   int32 // index into Run.Visits; -1 for none
	Treated bool
	Grains  int64            // infested acres, as printed
	Ground  orb.MultiPolygon // degrees; nil if the treated ground is not known
	At      orb.Point        // where to go; the stand's position if no ground is known
	Drift   *drift.Outcome   // for its ground; for the whole stand if no ground is known
	share   float64          // of the exposure in Drift
}

// PartsOfStands returns the parts of the stands that were treated in part, in treatment order, with the
// untreated part first. The two parts add up to the stand's acres.
func PartsOfStands(run *Run) []PartOfStand {
	var out []PartOfStand
	var visits map[string]int32
	for i := range run.Stands {
		s := &run.Stands[i]
		if s.Done.Share <= 0 || s.Done.Share >= 1 {
			continue
		}
		if visits == nil {
			visits = make(map[string]int32, len(run.Visits))
			for k := range run.Visits {
				visits[run.Visits[k].StandID] = int32(k)
			}
		}
		all := run.round(s.Infested.Grains())
		left := min(all, run.round((s.Infested * geo.SquareMeters(1-s.Done.Share)).Grains()))
		at, there := visits[s.ID]
		if !there {
			at = -1
		}
		rest := PartOfStand{Stand: int32(i), Visit: at, Grains: left, At: s.Place(), Drift: s.ToTreat(), share: s.Done.Waits()}
		done := PartOfStand{Stand: int32(i), Visit: at, Treated: true, Grains: all - left, At: rest.At, Drift: &s.Drift, share: s.Done.Share}
		if cut := s.Done.Cut; cut != nil {
			rest.Ground, rest.At = cut.Rest, cut.RestAt
			done.Ground, done.At, done.Drift, done.share = cut.Ground, cut.At, s.Treated, 1
		}
		out = append(out, rest, done)
	}
	return out
}

// PartTable returns the table of the parts of stands that were treated in part.
func PartTable(run *Run) Table {
	parts := PartsOfStands(run)
	of := func(r *Run, i int) *Stand { return &r.Stands[parts[i].Stand] }
	return Table{
		Name: "stand_parts", Title: "Two rows for each stand that was treated in part since its survey: what waits for treatment and what was treated, each with its own ground (with --treatments)",
		Rows: len(parts),
		Fields: []Field{
			{field.StandID, "Stand", NoUnit, Text, "Identity of the stand.", "",
				func(r *Run, i int) Value { return text(of(r, i).ID) }},
			{field.Quarter, "Quarter", NoUnit, Text, "Calendar quarter of the batch.", "",
				func(r *Run, _ int) Value { return text(r.Quarter.String()) }},
			{field.Part, "Part", NoUnit, Text, "to_treat or treated.", "",
				func(_ *Run, i int) Value { return text(partWord(parts[i].Treated)) }},
			{"known_by", "Known by", NoUnit, Text, "area: the ground inside the areas drawn in the treatments file. acres: only acres were entered, and nobody knows which ground of the stand they are. area and acres: both; the acres are taken off what waits.", "",
				func(r *Run, i int) Value { return text(knownBy(of(r, i))) }},
			{field.TreatOrder, "Treat order", NoUnit, Count, "Place in the treatment order; blank for what was treated.", "upstream first [C]",
				func(r *Run, i int) Value {
					if parts[i].Treated {
						return Value{}
					}
					return count(of(r, i).Advice.Order)
				}},
			{field.InfestedAcres, "Infested area", Acres, Number, "Infested acres of the part; the two add up to the stand's.", "",
				func(r *Run, i int) Value { return r.acres(parts[i].Grains) }},
			{field.ReachKm, "Stream at risk", Kilometers, Number, "Stream that the ground of this part puts at risk, as surveyed; of the whole stand where no area was drawn.", "half-distances assumed [A]",
				func(_ *Run, i int) Value { return number(parts[i].Drift.ReachKm, Kilometers) }},
			{field.Exposure, "Exposure", IndexKm, Number, "Part of the stand's exposure that comes from this ground, as surveyed; in proportion to acres where no area was drawn.", "relative index [A]",
				func(_ *Run, i int) Value {
					return number(drift.AmountKm(parts[i].share)*parts[i].Drift.Exposure, IndexKm)
				}},
			{field.LookAgain, "Look again", NoUnit, Date, "Day to look again at what was treated; blank for what waits.", "interval assumed [A]",
				func(r *Run, i int) Value {
					if p := &parts[i]; p.Treated && p.Visit >= 0 {
						return day(r.Visits[p.Visit].Again)
					}
					return Value{}
				}},
			{field.DecimalLongitude, "Longitude", Degrees, Number, "Longitude of a place inside the part, or inside the stand where no area was drawn.", "Darwin Core [P]",
				func(_ *Run, i int) Value { return number(parts[i].At[0], Degrees) }},
			{field.DecimalLatitude, "Latitude", Degrees, Number, "Latitude of that place.", "Darwin Core [P]",
				func(_ *Run, i int) Value { return number(parts[i].At[1], Degrees) }},
		},
	}
}

func partWord(treated bool) string {
	if treated {
		return "treated"
	}
	return "to_treat"
}

func knownBy(s *Stand) string {
	switch {
	case s.Done.Cut == nil:
		return "acres"
	case s.Done.ByAcres > 0:
		return "area and acres"
	}
	return "area"
}
