package followup

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
)

// The tests of this file compare Schedule with a second model, written from the package comment:
// rectangles in plane metres, every stand checked for every piece of work, and a diary read from
// its first page each quarter.

// rectangle is ground in whole metres.
type rectangle struct{ west, south, east, north float64 }

func (r rectangle) area() float64 { return max(0, r.east-r.west) * max(0, r.north-r.south) }

func (r rectangle) and(o rectangle) rectangle {
	return rectangle{max(r.west, o.west), max(r.south, o.south), min(r.east, o.east), min(r.north, o.north)}
}

// from is the distance of a place, 0 inside.
func (r rectangle) from(x, y float64) float64 {
	return math.Hypot(max(0, r.west-x, x-r.east), max(0, r.south-y, y-r.north))
}

// job is a piece of work on a day, at a place or as a drawn area.
type job struct {
	day   string
	x, y  float64
	drawn *rectangle
	acres float64 // NaN for not told
}

// worksite is stands and the work around them.
type worksite struct {
	ground []rectangle
	fresh  []bool // the stand is new this quarter
	jobs   []job
	join   float64
}

func drawWorksite(dice *rand.Rand) worksite {
	w := worksite{join: float64(10 + dice.IntN(40))}
	for i := range 2 + dice.IntN(5) { // one in each field of 100 m
		x, y := float64(100*(i%3)+dice.IntN(30)), float64(100*(i/3)+dice.IntN(30))
		w.ground = append(w.ground, rectangle{x, y, x + float64(20+dice.IntN(50)), y + float64(20+dice.IntN(50))})
		w.fresh = append(w.fresh, dice.IntN(4) == 0)
	}
	for range 1 + dice.IntN(5) {
		j := job{day: []string{"2026-06-20", "2026-07-10", "2026-08-20"}[dice.IntN(3)], x: float64(dice.IntN(340)-20) + 0.5, y: float64(dice.IntN(240)-20) + 0.5, acres: math.NaN()}
		if dice.IntN(2) == 0 {
			j.acres = 0.02 * float64(1+dice.IntN(20))
		}
		if dice.IntN(2) == 0 {
			r := rectangle{j.x - float64(dice.IntN(40)), j.y - float64(dice.IntN(40)), j.x + float64(1+dice.IntN(60)), j.y + float64(1+dice.IntN(60))}
			j.drawn = &r
		}
		w.jobs = append(w.jobs, j)
	}
	return w
}

// done returns the stands a job was done on: all with at least a square metre in its area, or else
// the nearest within the join distance. New stands take no work from before the quarter.
func (w *worksite) done(j job, since string) []int {
	var under []int
	nearest, away := -1, math.Inf(1)
	for i, g := range w.ground {
		if w.fresh[i] && j.day <= since {
			continue
		}
		if j.drawn != nil && g.and(*j.drawn).area() >= 1 {
			under = append(under, i)
		}
		if d := g.from(j.x, j.y); d <= w.join && d < away {
			nearest, away = i, d
		}
	}
	if under == nil && nearest >= 0 {
		under = []int{nearest}
	}
	return under
}

// treated is the share of a stand treated by its jobs from a day on: drawn areas square metre by
// square metre, other jobs by acres.
func (w *worksite) treated(i int, jobs []job, day string) float64 {
	const acre = 4046.8564224
	g := w.ground[i]
	share := 0.0
	for _, j := range jobs {
		switch {
		case j.day < day, j.drawn != nil && g.and(*j.drawn).area() >= 1:
		case j.acres > 0:
			share += j.acres * acre / g.area()
		case j.drawn != nil:
			share += j.drawn.area() / g.area()
		default: // all of it
			return 1
		}
	}
	for x := g.west + 0.25; x < g.east; x += 0.5 {
		for y := g.south + 0.25; y < g.north; y += 0.5 {
			if slices.ContainsFunc(jobs, func(j job) bool {
				return j.day >= day && j.drawn != nil && x > j.drawn.west && x < j.drawn.east && y > j.drawn.south && y < j.drawn.north
			}) {
				share += 0.25 / g.area()
			}
		}
	}
	if share >= 0.9 {
		return 1
	}
	return share
}

// TestWorkAgainstAPlainModel: which stands each piece of work was done on, and the treated share of
// each, for two hundred drawn sites.
func TestWorkAgainstAPlainModel(t *testing.T) {
	const since, looked = "2026-06-30", "2026-07-10"
	frame := earth.NewFrame(places["south"])
	dice := rand.New(rand.NewPCG(7, 1))
	parts := 0
	for n := range 200 {
		w := drawWorksite(dice)
		site := Site{Quarter: quarter("2026Q3"), Since: day(since), Settings: DefaultSettings()}
		site.Settings.JoinDistance = geo.Meters(w.join)
		for i, g := range w.ground {
			middle := orb.Point{(g.west + g.east) / 2, (g.south + g.north) / 2}
			sub := square(frame, fmt.Sprintf("S%d", i), middle[0], middle[1], 1)
			outline := stand.Pack(area(frame, g.west, g.south, g.east, g.north))
			sub.Footprint = &outline
			sub.Day, sub.Acres = day(looked), g.area()/4046.8564224
			if w.fresh[i] {
				sub.Earlier = nil
			}
			site.Subjects = append(site.Subjects, sub)
		}
		for _, j := range w.jobs {
			a := treatment.Treatment{Date: day(j.day), Placed: true, Position: frame.Inverse(orb.Point{j.x, j.y}), TreatedAcres: j.acres}
			if j.drawn != nil {
				a.Ground = area(frame, j.drawn.west, j.drawn.south, j.drawn.east, j.drawn.north)
			}
			site.Actions = append(site.Actions, a)
		}
		rows, done, _ := Schedule(site)
		of := make([][]job, len(w.ground))
		for k, j := range w.jobs {
			var want []string
			for _, i := range w.done(j, since) {
				want = append(want, fmt.Sprintf("S%d", i))
				of[i] = append(of[i], j)
			}
			if !slices.Equal(done[k], want) {
				t.Fatalf("site %d: job %+v was done on %v, want %v\n%+v", n, j, done[k], want, w)
			}
		}
		for _, r := range rows {
			i := int(r.StandID[1] - '0')
			want := w.treated(i, of[i], looked)
			if math.Abs(r.Done.Share-want) > 1e-4 && math.Abs(want-0.9) > 1e-4 {
				t.Fatalf("site %d: %g of %s was treated, want %g\n%+v", n, r.Done.Share, r.StandID, want, w)
			}
			if want > 0 && want < 1 {
				parts++
			}
		}
	}
	if parts < 50 {
		t.Errorf("%d stands were treated in part: the sites try too little", parts)
	}
}

// page is a quarter of a stand's diary.
type page struct {
	quarter survey.Quarter
	look    Look
	day     time.Time
	work    []time.Time // reported in the quarter, done at any time
}

// clearLooks reads a diary from its first page and counts the clear looks in a row at its end:
// looks that found nothing, after the last work known by then, each four quarters or more after the
// last that counted. A find ends the series, and so does work after its last look.
func clearLooks(pages []page) (years int, since time.Time) {
	var last, worked, visited time.Time
	for _, p := range pages {
		told := false
		for _, d := range p.work {
			if d.After(worked) {
				worked, told = d, true
			}
		}
		switch {
		case p.look == Found:
			years, visited = 0, latest(visited, p.day)
		case p.look == NotFound:
			if visited = latest(visited, p.day); !worked.IsZero() && !worked.Before(p.day) {
				years = 0
				continue
			}
			switch {
			case years == 0 || !worked.Before(since):
				years, since, last = 1, p.day, p.day
			case 4*p.day.Year()+int(p.day.Month()-1)/3-4*last.Year()-int(last.Month()-1)/3 >= 4:
				years, last = years+1, p.day
			}
		case told && years > 0 && !worked.Before(visited):
			years = 0
		case told && years > 0 && !worked.Before(since): // work within the series: it begins again with the last look
			years, since, last = 1, visited, visited
		}
	}
	return years, since
}

// TestClearLooksOfADiary: five hundred stories of up to twelve quarters.
func TestClearLooksOfADiary(t *testing.T) {
	dice := rand.New(rand.NewPCG(2, 6))
	longest := 0
	for n := range 500 {
		var pages []page
		var before []Row
		var end time.Time
		q := quarter("2024Q1")
		var known []treatment.Treatment
		for i := range 2 + dice.IntN(11) {
			p := page{quarter: q, look: Found, day: q.Begin().AddDate(0, 0, dice.IntN(89))}
			sub := Subject{ID: "S", Look: Found, Day: p.day, Status: survey.Treated, Acres: 1}
			if i > 0 {
				p.look = []Look{NotFound, NotFound, NotFound, Nobody, Found}[dice.IntN(5)]
				sub.Look, sub.Earlier = p.look, []string{"S"}
				if p.look == Nobody {
					p.day, sub.Day = time.Time{}, time.Time{}
				}
			}
			if dice.IntN(6) == 0 {
				at := q.Begin().AddDate(0, 0, dice.IntN(89))
				if dice.IntN(3) == 0 { // reported late
					at = at.AddDate(0, 0, -dice.IntN(500))
				}
				p.work = append(p.work, at)
				known = append(known, treatment.Treatment{Date: at, StandID: "S", TreatedAcres: math.NaN()})
			}
			pages = append(pages, p)
			rows, _, _ := Schedule(Site{Quarter: q, Subjects: []Subject{sub}, Before: before, Since: end, Actions: known, Settings: DefaultSettings()})
			years, since := clearLooks(pages)
			if r := rows[0]; r.Clear.Years != years || years > 0 && !r.Clear.Since.Equal(since) {
				t.Fatalf("story %d, %v: %d clear looks since %v, want %d since %v\n%+v", n, q, r.Clear.Years, r.Clear.Since, years, since, pages)
			}
			longest = max(longest, years)
			before, end, q = rows, q.End(), q.Next()
		}
	}
	if longest < 3 {
		t.Errorf("never more than %d clear looks: the stories try too little", longest)
	}
}
