package batch

import (
	"cmp"
	"math"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/geo/shape"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/drift"
	"driftreach/internal/plan"
	"driftreach/internal/result"
	"driftreach/internal/treatable"
)

// workAtWater measures what applications for work at the water ask for: the area to be treated within
// each distance of a bank, and the length of bank beside it.
func (c *computation) workAtWater() error {
	if !c.atWater.Written(c.count) {
		return nil
	}
	w := &result.WaterWork{Distances: c.atWater.Within(), AtWater: c.rules.Aquatic.Setback}
	if n := len(w.Distances); n > 0 {
		w.AtWater = max(w.AtWater, w.Distances[n-1])
	}
	planned := map[int32][]*plan.Row{}
	if c.run.Plan != nil {
		for k := range c.run.Plan.Rows {
			row := &c.run.Plan.Rows[k]
			planned[row.Stand] = append(planned[row.Stand], row)
		}
	}
	for at := range c.run.Stands {
		if s := &c.run.Stands[at]; s.AsksTreatment() && s.Done.Share < 1 {
			w.Areas = append(w.Areas, result.WaterArea{Stand: int32(at), Months: c.months(int32(at), planned[int32(at)])})
		}
	}
	banks := c.water.NewBanks()
	strips := make([][]aquatic.Strip, len(w.Areas))
	err := parallel.Each(c.ctx, len(w.Areas), c.host.Goroutines(), func(k int) { strips[k] = c.measure(&w.Areas[k], w.Distances, banks) })
	if err != nil {
		return err
	}
	w.Pieces = c.bankPieces(slices.Concat(strips...), banks)
	w.Fresh = freshGround(c.run.Treatments)
	c.run.WaterWork = w
	return nil
}

// measure finds where an area lies along the water. For a stand treated in part since its survey it
// uses the untreated part: by its outline or, if that is not known, by its share.
func (c *computation) measure(a *result.WaterArea, distances []geo.Meters, banks *aquatic.Banks) []aquatic.Strip {
	i, s := c.sorted[a.Stand], &c.run.Stands[a.Stand]
	st, rest := &c.stands[i], orb.MultiPolygon(nil)
	share := geo.SquareMeters(1 - s.Done.Share)
	if cut := s.Done.Cut; cut != nil { // also apply the share of work known only by acres
		rest, share = cut.Rest, geo.SquareMeters(s.Done.Waits())
	}
	own, records := c.withRecords(st)
	a.Within = make([]geo.SquareMeters, len(distances))
	a.Zone = share * s.Zone.Area
	if rest != nil {
		a.Zone = share * c.water.Within(own, records, c.rules.Stands, rest, c.rules.Aquatic.Setback)
	}
	for k, d := range distances {
		if s.Zone.WaterDistance <= d {
			a.Within[k] = share * c.water.Within(own, records, c.rules.Stands, rest, d)
		}
	}
	if !s.Zone.InZone {
		return nil
	}
	return banks.Of(own, records, c.rules.Stands, func(record int32) bool {
		if c.in.Records.Kept != nil {
			record = st.Members[record]
		}
		left, told := c.left[record]
		return rest == nil || !told || left > 0
	})
}

// months returns the months in which a stand is planned. Without a plan it returns the months of the
// year after the batch's quarter in which the stand may be treated, if --treatable has rows for it.
func (c *computation) months(at int32, planned []*plan.Row) []string {
	rules := c.terms.rules[at]
	var out []string
	add := func(from, to time.Time) {
		for begin := from; !begin.After(to); {
			end := time.Date(begin.Year(), begin.Month()+1, 0, 0, 0, 0, 0, time.UTC)
			if end.After(to) {
				end = to
			}
			if _, _, why := treatable.Window(rules, begin, end); why == "" {
				out = append(out, begin.Format("2006-01"))
			}
			begin = end.AddDate(0, 0, 1)
		}
	}
	switch {
	case c.run.Plan != nil:
		for _, row := range planned {
			add(row.From, row.To)
		}
	case len(rules) > 0:
		first := c.in.Quarter.Next().Begin()
		add(first, first.AddDate(1, 0, -1))
	}
	return out
}

// bankPieces joins overlapping strips, so that each metre of bank counts once, and measures them by
// reporting unit.
func (c *computation) bankPieces(strips []aquatic.Strip, banks *aquatic.Banks) []result.BankPiece {
	slices.SortFunc(strips, func(a, b aquatic.Strip) int {
		return cmp.Or(cmp.Compare(a.Edge, b.Edge), cmp.Compare(a.Shore, b.Shore), cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Side, b.Side))
	})
	var pieces []result.BankPiece
	for len(strips) > 0 {
		n := 1
		for n < len(strips) && strips[n].Edge == strips[0].Edge && strips[n].Shore == strips[0].Shore {
			n++
		}
		for _, joined := range joinBanks(strips[:n]) {
			pieces = append(pieces, c.byUnit(joined, banks)...)
		}
		strips = strips[n:]
	}
	return pieces
}

// joined is a piece of one channel or of a shore that strips cover.
type joined struct {
	aquatic.Strip
	both bool // covered on both banks
}

// joinBanks returns the covered pieces of one channel or shore, in order and without overlap. A new
// piece begins wherever coverage of either bank begins or ends.
func joinBanks(strips []aquatic.Strip) []joined {
	var ends []geo.Meters
	for _, s := range strips {
		ends = append(ends, s.From, s.To)
	}
	slices.Sort(ends)
	ends = slices.Compact(ends)
	var covered [2][]aquatic.Strip // by side: sorted, without overlap
	for _, s := range strips {
		own := &covered[s.Side]
		if n := len(*own); n > 0 && s.From <= (*own)[n-1].To {
			(*own)[n-1].To = max((*own)[n-1].To, s.To)
			continue
		}
		*own = append(*own, s)
	}
	var out []joined
	var at [2]int
	for k := range len(ends) - 1 {
		from, to := ends[k], ends[k+1]
		n := 0
		for side := range covered {
			own := covered[side]
			for at[side] < len(own) && own[at[side]].To <= from {
				at[side]++
			}
			if at[side] < len(own) && own[at[side]].From <= from {
				n++
			}
		}
		if n == 0 {
			continue
		}
		piece := joined{strips[0], n == 2}
		piece.From, piece.To = from, to
		if m := len(out); m > 0 && out[m-1].To == from && out[m-1].both == piece.both {
			out[m-1].To = to
			continue
		}
		out = append(out, piece)
	}
	return out
}

// byUnit measures the length of a piece in each reporting unit.
func (c *computation) byUnit(j joined, banks *aquatic.Banks) []result.BankPiece {
	whole := (j.To - j.From).Kilometers()
	lengths := []allocate.Length{{Unit: allocate.Outside, Km: int64(math.Round(float64(whole) * 1e4))}}
	if c.units != nil {
		lengths = c.units.Reaches([]drift.Reach{{Path: banks.Path(j.Strip), LengthKm: whole}}, 1)[0]
	}
	out := make([]result.BankPiece, len(lengths))
	for k, l := range lengths {
		out[k] = result.BankPiece{Line: banks.Line(j.Strip), Unit: l.Unit}
		switch {
		case j.Shore >= 0:
			out[k].Shore = l.Km
		case j.both:
			out[k].Channel, out[k].Both = l.Km, l.Km
		default:
			out[k].Channel = l.Km
		}
	}
	return out
}

// freshGround returns, by treatment, the share of its drawn area that no earlier drawn work of the same
// calendar year treated; NaN if no area is drawn. Treatments are sorted by day. Within a year bounding
// boxes are compared pair by pair, and polygons only if the boxes meet.
func freshGround(all []result.Treatment) []float64 {
	out := make([]float64, len(all))
	boxes := make([]orb.Bound, len(all))
	year, drawn := 0, []int{}
	for i := range all {
		out[i] = math.NaN()
		if len(all[i].Ground) == 0 {
			continue
		}
		boxes[i] = all[i].Ground.Bound()
		if y := all[i].Date.Year(); y != year {
			year, drawn = y, drawn[:0]
		}
		var before []int
		for _, k := range drawn {
			if boxes[k].Intersects(boxes[i]) {
				before = append(before, k)
			}
		}
		out[i] = freshShare(all, i, before)
		drawn = append(drawn, i)
	}
	return out
}

// freshShare returns the share of the area of treatment i outside the areas of the treatments in
// before.
func freshShare(all []result.Treatment, i int, before []int) float64 {
	frame := earth.NewFrame(all[i].Ground.Bound().Center())
	valid := func(k int) orb.MultiPolygon {
		planar, _ := shape.MakeValid(frame.Project(all[k].Ground))
		return planar
	}
	own := valid(i)
	area := geo.PolygonArea(own)
	switch {
	case !(area > 0):
		return math.NaN()
	case len(before) == 0:
		return 1
	}
	earlier := make([]orb.MultiPolygon, len(before))
	for n, k := range before {
		earlier[n] = valid(k)
	}
	return 1 - min(1, float64(shape.IntersectionArea(own, shape.Union(earlier, 1))/area))
}
