package report

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"driftreach/internal/priority"
	"driftreach/internal/result"
)

// Sizes on the map in grid steps. Our choice: what can be distinguished at arm's length.
const (
	leastRadius    = 5.0
	mostRadius     = 13.0
	leastFootprint = 14 * perPixel // a footprint at least this wide is drawn as an outline
	crowded        = 3 * perPixel  // marks of one kind this near are drawn as one
	mostMarks      = 1200          // of each kind
)

// standKind is the symbol of a stand on the map. Shape shows whether it is in the zone or not, fill
// whether it is live, or treated or dead.
type standKind struct{ inZone, live bool }

// standKinds returns the kinds in drawing order, the last on top.
func standKinds() []standKind {
	return []standKind{{false, false}, {true, false}, {false, true}, {true, true}}
}

func kindOf(s *result.Stand) standKind {
	return standKind{inZone: s.Zone.InZone, live: priority.Asked(s.Status) && s.Done.Share < 1}
}

// class is the kind's class in the style sheet.
func (k standKind) class() string {
	if k.live {
		return "live"
	}
	return "done"
}

func (k standKind) label() string {
	where, what := "Upland stand", "treated or standing dead"
	if k.inZone {
		where = "Aquatic-zone stand"
	}
	if k.live {
		what = "live (untreated or resprouting)"
	}
	return where + ", " + what
}

// standMark is one mark.
type standMark struct {
	at     dot
	radius int
	stand  int
}

// standMarks places the stands of a kind, the largest first. hidden is the number of stands that share
// the mark of a larger one or exceed the most marks of a map.
func standMarks(v *view, run *result.Run, kind standKind, most float64) (marks []standMark, hidden int) {
	var own []int
	for i := range run.Stands {
		if kindOf(&run.Stands[i]) == kind {
			own = append(own, i)
		}
	}
	slices.SortStableFunc(own, func(a, b int) int {
		return cmp.Or(cmp.Compare(run.Stands[b].Infested, run.Stands[a].Infested), cmp.Compare(run.Stands[a].ID, run.Stands[b].ID))
	})
	taken := map[dot]bool{}
	for _, i := range own {
		at := v.at(run.Stands[i].Center)
		cell := dot{at.x / crowded, at.y / crowded}
		if taken[cell] || len(marks) >= mostMarks {
			hidden++
			continue
		}
		taken[cell] = true
		share := 0.0
		if most > 0 {
			share = math.Sqrt(float64(run.Stands[i].Infested) / most)
		}
		marks = append(marks, standMark{at: at, stand: i, radius: int(math.Round(leastRadius + (mostRadius-leastRadius)*share))})
	}
	return marks, hidden
}

// largestInfested returns the largest infested area of a stand.
func largestInfested(run *result.Run) float64 {
	most := 0.0
	for i := range run.Stands {
		most = max(most, float64(run.Stands[i].Infested))
	}
	return most
}

// drawStands draws the stands of every kind as marks, with a broken ring around those that nobody
// surveyed. Below the marks it draws the outlines of stands that are large enough. hidden is the number
// of stands without their own mark.
func (m *mapDrawing) drawStands(run *result.Run) (hidden int) {
	most := largestInfested(run)
	for _, kind := range standKinds() {
		marks, more := standMarks(&m.view, run, kind, most)
		hidden += more
		var symbols, shapes, rings []byte
		for _, k := range marks {
			if outline := m.footprint(&run.Stands[k.stand]); len(shapes) < mostLineBytes && outline != nil {
				shapes = append(shapes, outline...)
				k.radius = leastRadius
			}
			symbols = appendMark(symbols, k.at, k.radius, kind.inZone)
			if run.Stands[k.stand].Carried() {
				k.radius += 3 * perPixel
				rings = appendMark(rings, k.at, k.radius, true)
			}
			m.taken = append(m.taken, around(k.at, k.radius, k.radius))
		}
		m.layer("ground "+kind.class(), string(shapes))
		m.layer("stand "+kind.class(), string(symbols))
		m.layer("unseen", string(rings))
	}
	return hidden
}

// footprint returns a stand's outline as path data; nil if it is too small to be seen.
func (m *mapDrawing) footprint(s *result.Stand) []byte {
	if math.Sqrt(float64(s.Gross))*m.view.scale < leastFootprint {
		return nil
	}
	var data []byte
	for _, polygon := range s.Footprint.Polygons() {
		for _, ring := range polygon {
			line := make([]dot, len(ring))
			for i, p := range ring {
				line[i] = m.view.at(p)
			}
			data = appendRing(data, thinned(line, 1))
		}
	}
	return data
}

// appendRing appends a closed line.
func appendRing(b []byte, ring []dot) []byte {
	b = appendDot(b, 'M', ring[0])
	for i := 1; i < len(ring); i++ {
		b = appendDot(b, 'l', dot{ring[i].x - ring[i-1].x, ring[i].y - ring[i-1].y})
	}
	return append(b, 'z')
}

// appendMark appends a circle, or a square of about the same area.
func appendMark(b []byte, at dot, r int, circle bool) []byte {
	if circle {
		b = appendDot(b, 'M', dot{at.x - r, at.y})
		b = fmt.Appendf(b, "a%d %d 0 1 0 %d 0a%d %d 0 1 0 %d 0", r, r, 2*r, r, r, -2*r)
		return append(b, 'z')
	}
	side := int(math.Round(float64(r) * math.Sqrt(math.Pi) / 2))
	b = appendDot(b, 'M', dot{at.x - side, at.y - side})
	return fmt.Appendf(b, "h%dv%dh%dz", 2*side, 2*side, -2*side)
}
