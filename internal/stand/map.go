package stand

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/survey"
)

// Map returns the stands of one quarter, and by record the index of its stand (-1 for none).
// Records must be sorted by id. The result depends only on the set of records and on s, not on the
// number of workers.
func Map(records []survey.Record, q survey.Quarter, s Settings, workers int) ([]Stand, []int32, error) {
	found, err := Measure(records, s, workers)
	if err != nil {
		return nil, nil, err
	}
	stands, of := Number(found, len(records), q)
	return stands, of, nil
}

// Measure returns the stands of the records, sorted by their smallest record, without identities.
// It keeps three acreages apart: canopy <= infested <= gross (USDA Forest Service Southwestern
// Region TP-R3-16-26, 2014). Records not connected by steps of at most the join distance may be
// measured separately: they give the same stands. Clustering costs n log n; the unions are near
// linear in the points of each stand.
func Measure(records []survey.Record, s Settings, workers int) ([]Stand, error) {
	stands, _, err := MeasureAnd(records, s, workers, func(*Laid) struct{} { return struct{}{} })
	return stands, err
}

// MeasureAnd is Measure, and returns by stand what also returns while the stand is still laid: what
// depends on its patches costs less then. Several workers call also at once; it must not keep what is laid.
func MeasureAnd[T any](records []survey.Record, s Settings, workers int, also func(*Laid) T) ([]Stand, []T, error) {
	members, isolated, err := group(records, s, workers)
	if err != nil {
		return nil, nil, err
	}
	stands, told := make([]Stand, len(members)), make([]T, len(members))
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	for _, span := range spans(members) {
		tasks.Go(func() error {
			for i := span[0]; i < span[1]; i++ {
				laid := build(records, members[i], s)
				stands[i] = *laid.Stand
				stands[i].Isolated = isolated[i]
				told[i] = also(laid)
				laid.prepared.Done()
			}
			return nil
		})
	}
	return stands, told, tasks.Wait()
}

// Number sorts stands by their smallest record, gives them identities, and returns by record the
// index of its stand (-1 for none). It reuses the slice.
func Number(stands []Stand, records int, q survey.Quarter) ([]Stand, []int32) {
	slices.SortFunc(stands, func(a, b Stand) int { return cmp.Compare(a.Members[0], b.Members[0]) })
	of := make([]int32, records)
	for i := range of {
		of[i] = -1
	}
	for i := range stands {
		stands[i].ID = ID(q, i+1)
		for _, m := range stands[i].Members {
			of[m] = int32(i)
		}
	}
	return stands, of
}

// ID returns the identity of the nth stand first mapped in a quarter, counted from 1:
// "2026Q3-0001".
func ID(q survey.Quarter, n int) string { return fmt.Sprintf("%s-%04d", q, n) }

// pointsPerTask makes a task large enough to be worth handing out. Our choice: about a millisecond
// of work.
const pointsPerTask = 256

// spans divides the stands into runs of about equal work.
func spans(members [][]int32) [][2]int {
	var out [][2]int
	first, load := 0, 0
	for i := range members {
		load += len(members[i])
		if load >= pointsPerTask || i == len(members)-1 {
			out = append(out, [2]int{first, i + 1})
			first, load = i+1, 0
		}
	}
	return out
}

// Build measures the stand of the given records, indices ascending. It does not set the identity,
// nor whether the stand is isolated.
func Build(records []survey.Record, members []int32, s Settings) Stand {
	return *build(records, members, s).Stand
}

// build is Build; the stand is still laid.
func build(records []survey.Record, members []int32, s Settings) *Laid {
	st := &Stand{Members: members, Status: jointStatus(records, members), StemHeight: geo.Meters(math.NaN())}
	l := st.Lay(records, s)
	st.Center = l.frame.Center()
	st.Infested, st.Gross = l.measure()
	st.CoverPercent = l.canopy()
	st.Canopy = st.Infested * geo.SquareMeters(st.CoverPercent/100)
	st.Footprint = Pack(l.written(st.Infested))
	st.Inside = st.Footprint.Inside(st.Center)
	st.Assumed = assumed(l.patches)
	var first, last survey.Day
	for _, m := range members {
		r := &records[m]
		if !r.Begin.IsZero() && (first.IsZero() || r.Begin < first) {
			first = r.Begin
		}
		last = max(last, r.End)
		if !(st.StemHeight >= r.StemHeight) && !math.IsNaN(float64(r.StemHeight)) {
			st.StemHeight = r.StemHeight
		}
	}
	st.First, st.Last = first.Time(), last.Time()
	return l
}

// jointStatus returns the status that needs the most work: regrowth, then untreated growth, then
// treated, then dead.
func jointStatus(records []survey.Record, members []int32) survey.Status {
	urgency := []survey.Status{survey.Resprout, survey.Untreated, survey.Treated, survey.StandingDead}
	for _, status := range urgency {
		if slices.ContainsFunc(members, func(m int32) bool { return records[m].Status == status }) {
			return status
		}
	}
	return survey.Untreated
}

// assumed lists the default settings on which a stand's figures rest.
func assumed(patches []Patch) []string {
	var names []string
	if slices.ContainsFunc(patches, func(p Patch) bool { return p.CoverAssumed && p.Live }) {
		names = append(names, AssumedCover)
	}
	if slices.ContainsFunc(patches, func(p Patch) bool { return p.AreaAssumed }) {
		names = append(names, AssumedPatch)
	}
	return names
}
