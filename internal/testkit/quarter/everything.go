package quarter

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
	"driftreach/internal/valued"
	"driftreach/internal/work"
)

func day(month time.Month, d int) time.Time { return time.Date(2026, month, d, 0, 0, 0, 0, time.UTC) }

// patch is a live find of so many square metres.
func patch(id string, x, y, area float64, on time.Time) survey.Record {
	return survey.Record{
		ID: id, File: "points.csv", Position: At(x, y), Detected: true, PatchArea: geo.SquareMeters(area), Cover: 50, StemHeight: geo.Meters(nan), Uncertainty: 3, Begin: survey.DayOf(on), End: survey.DayOf(on),
		Notes: survey.Notes{Parcel: "P " + id[:1]}.Pack(),
	}
}

// Everything is two quarters with every kind of input: on a long water with a weir and a lake, and a side
// water, finds of all statuses, drawn and measured and not; in the second some have grown, are gone, cut
// in half by work, new or look-alikes; planned works, valued places, rules for who may treat where.
func Everything() (first, second observed.Quarter, s settings.Settings) {
	s = Rules()
	s.Plan.Budget, s.Plan.Unit, s.Plan.Quarters, s.Plan.SetUp, s.Plan.PerAcre, s.Plan.FactorColumn, s.Plan.Regrowth, s.Plan.Efficacy = 400, "hours", 4, 10, 4000, "access", 0.1, 0.8
	s.Plan.Factors = map[string]float64{"boat": 2}
	s.WaterWork.Write, s.WaterWork.Distances, s.Drift.Draws, s.Drift.Stage = "always", []float64{5, 50}, 20, "both"
	line := func(id, name string, x float64, width geo.Meters) stream.Centerline {
		return stream.Centerline{ID: id, Name: name, Order: 2, BankfullWidth: width, FlowShare: geo.Share(nan), BarrierPass: geo.Share(nan), Sequence: nan, LocalArea: geo.SquareKilometers(nan), Path: orb.LineString{At(x, 1500), At(x, -1500)}}
	}
	side := stream.Centerline{ID: "b", Name: "Side Water", Permanence: stream.Ephemeral, FlowShare: geo.Share(nan), BarrierPass: geo.Share(nan), Sequence: nan, LocalArea: geo.SquareKilometers(nan), Path: orb.LineString{At(600, 300), At(300, 100), At(0, 0)}}
	upper := line("a", "Long Water", 0, 6)
	upper.Path = orb.LineString{At(0, 1500), At(0, 0)}
	lower := line("c", "Long Water", 0, 0)
	lower.Path = orb.LineString{At(0, 0), At(0, -1500)}
	base := observed.Quarter{
		ExtraColumns: []string{"access"}, Centerlines: []stream.Centerline{upper, side, lower},
		Files: []mapfile.File{{Name: "points.csv", Role: "points", SHA256: "p"}, {Name: "streams.geojson", Role: "streams", SHA256: "s"}},
		Water: []stream.Surface{{ID: "w", Name: "Long Water", Kind: stream.Lake, Areas: box(-80, -900, 90, -600)}},
	}
	base.Barriers, _ = stream.PlaceStructures(base.Centerlines, []stream.Structure{{ID: "weir", Position: At(0, 700), Kind: stream.Weir, Pass: geo.Share(nan)}})
	first, second = base, base
	first.Quarter, second.Quarter = First, Last
	drawn := patch("d1", 5, -300, 0, day(2, 3))
	drawn.Outline = box(4, -310, 24, -290)
	plain := patch("e1", 400, 160, 0, day(2, 3))
	plain.PatchArea, plain.Cover = 0, nan
	dead := patch("f1", -6, 1100, 120, day(2, 4))
	dead.Status = survey.StandingDead
	first.Records.Listed = []survey.Record{patch("a1", 8, 900, 90, day(2, 1)), patch("a2", 12, 915, 60, day(2, 1)), patch("b1", 4, 500, 150, day(2, 1)), patch("c1", 6, 100, 70, day(2, 2)), drawn, plain, dead, patch("g1", 300, 110, 40, day(2, 5))}
	gone := patch("c9", 6, 100, 0, day(5, 2))
	gone.Detected, gone.PatchArea = false, 0
	drawn.Begin, drawn.End, drawn.Status = survey.DayOf(day(4, 2)), survey.DayOf(day(4, 2)), survey.Resprout
	second.Records.Listed = []survey.Record{patch("a1", 8, 900, 140, day(5, 1)), patch("a2", 12, 915, 60, day(5, 1)), patch("b1", 4, 500, 100, day(5, 1)), gone, drawn, dead, patch("h1", 9, -1200, 30, day(5, 3)), patch("i1", 3, 1400, 10, day(5, 3))}
	for i := range second.Records.Listed {
		second.Records.Listed[i].Notes = survey.Notes{Parcel: "P", Extra: []string{[]string{"boat", "road"}[i%2]}}.Pack()
	}
	second.WorkGiven, second.WorkFirst = true, survey.DayOf(Last.Begin())
	done := func(row int, x, y, acres float64, on time.Time, area orb.MultiPolygon) treatment.Treatment {
		return treatment.Treatment{File: "work.csv", Row: row, Date: on, Position: At(x, y), Placed: true, Ground: area, Method: "cut stump", FormulationClass: "aquatic labelled", TreatedAcres: acres,
			Application: treatment.Application{Product: "Reed Away", Registration: "R-1", Amount: 2.5, AmountUnit: "l", Wind: 2, Temperature: 20, Hours: 3}}
	}
	second.Actions = []treatment.Treatment{done(1, 14, -300, nan, day(5, 20), box(4, -310, 14, -290)), done(2, 4, 500, 0.02, day(5, 21), nil), done(3, 500, 900, 0.01, day(5, 22), nil), done(4, 4, 500, 0.01, day(1, 21), nil)}
	second.WorksGiven = true
	second.Works = []work.Work{{ID: "w1", Kind: work.Mowing, Start: day(8, 1), End: day(8, 9), Contact: "roads", Lines: orb.MultiLineString{{At(30, 950), At(30, 850)}}}, {ID: "w2", Kind: work.Earthwork, Points: orb.MultiPoint{At(2000, 0)}}}
	second.Valued = []valued.Place{{ID: "v1", Name: "Ford", Weight: 3, Points: orb.MultiPoint{At(0, -500)}}, {ID: "v2", Weight: 1, Points: orb.MultiPoint{At(3000, 0)}}}
	second.Treatable = []treatable.Rule{{File: "rules.csv", Row: 1, StandID: "2026Q1-0002", Permission: treatable.Refused, Factor: nan}, {File: "rules.csv", Row: 2, Parcel: "P", Permission: treatable.Given, Months: "9-11", ClosedFrom: "03-01", ClosedTo: "07-15", ClosedFor: "nesting", Method: "cut stump", Factor: nan}}
	second.Treatable, _ = treatable.Check(second.Treatable, treatable.Options{})
	second.SurveyedGiven = true
	second.Surveyed = []surveyed.Ground{{File: "ground.csv", Row: 1, Begin: day(5, 1), End: day(5, 3), Method: surveyed.Foot, Lines: orb.MultiLineString{{At(10, 1500), At(10, -1500)}}}}
	second.Corrections = []correction.Correction{{File: "corrections.csv", Row: 1, Date: day(6, 1), Kind: correction.Misidentified, StandID: "2026Q1-0007"}}
	return first, second, s
}

// DeliverEverything delivers both quarters of Everything, and returns the folder and the result of the
// second with its inputs and settings.
func DeliverEverything(t testing.TB) (dir string, run *result.Run, in observed.Quarter, s settings.Settings) {
	t.Helper()
	first, second, s := Everything()
	top := t.TempDir()
	dir = filepath.Join(top, "second")
	Deliver(t, first, "", filepath.Join(top, "first"), s)
	return dir, Deliver(t, second, filepath.Join(top, "first"), dir, s), second, s
}
