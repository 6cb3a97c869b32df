package shape

import "math"

// event is a place where a circle crosses the outline of a capsule.
type event struct {
	angle   float64 // from the joint's start, 0 to 2 pi
	element int32
	enters  bool
}

// appendJointCover appends the part of a node's joint that capsule j covers; false when rounding
// makes the events inconsistent.
func (s *capsules) appendJointCover(covers []stretch, node int32, j int32) ([]stretch, bool) {
	t := &s.capsules[j]
	if t.a == node || t.b == node {
		return covers, true // the joint is the part these leave open
	}
	var room [8]event
	events := s.events(room[:0], node, j)
	if len(events) == 0 {
		if s.insideCapsule(node, j) {
			covers = append(covers, stretch{math.Inf(-1), math.Inf(1), s.circle(t.a), s.circle(t.a)})
		}
		return covers, true
	}
	for i := 1; i < len(events); i++ {
		for k := i; k > 0 && events[k].angle < events[k-1].angle; k-- {
			events[k], events[k-1] = events[k-1], events[k]
		}
	}
	return pairEvents(covers, events)
}

// pairEvents turns entries, each followed by an exit, into stretches.
func pairEvents(covers []stretch, events []event) ([]stretch, bool) {
	if len(events)%2 != 0 {
		return covers, false
	}
	for i, e := range events {
		after := events[(i+1)%len(events)]
		if e.enters == after.enters {
			return covers, false
		}
		if !e.enters {
			continue
		}
		if i+1 < len(events) {
			covers = append(covers, stretch{e.angle, after.angle, e.element, after.element})
			continue
		}
		covers = append(covers,
			stretch{e.angle, math.Inf(1), e.element, after.element},
			stretch{math.Inf(-1), after.angle, e.element, after.element})
	}
	return covers, true
}

// insideCapsule says whether a circle that does not cross the outline of capsule j is inside it.
func (s *capsules) insideCapsule(node, j int32) bool {
	t, n := &s.capsules[j], s.nodes[node]
	a := s.nodes[t.a]
	along := min(max((n.x-a.x)*t.ux+(n.y-a.y)*t.uy, 0), t.length)
	d := math.Hypot(n.x-a.x-along*t.ux, n.y-a.y-along*t.uy)
	return d+n.r <= t.r+touchTolerance
}

// events finds where the circle of node crosses the sides and the round ends of capsule j.
func (s *capsules) events(events []event, node, j int32) []event {
	t, n := &s.capsules[j], s.nodes[node]
	a := s.nodes[t.a]
	px, py := n.x-a.x, n.y-a.y
	along, across := px*t.ux+py*t.uy, t.ux*py-t.uy*px
	start := s.joints[node].start - math.Atan2(t.uy, t.ux)
	add := func(x, y float64, element int32, enters bool) {
		angle := math.Mod(math.Atan2(y, x)-start+6*math.Pi, 2*math.Pi)
		events = append(events, event{angle, element, enters})
	}
	for side := range int32(2) {
		if t.length == 0 {
			break
		}
		// Element 2j is the right side, at -r; on the circle the left of the
		// capsule is left upward on the far half.
		y := t.r - across
		if side == 0 {
			y = -t.r - across
		}
		rest := (n.r - y) * (n.r + y)
		if rest <= 0 {
			continue
		}
		for _, x := range [2]float64{math.Sqrt(rest), -math.Sqrt(rest)} {
			if at := along + x; at > 0 && at <= t.length {
				add(x, y, 2*j+side, (x > 0) == (side == 0))
			}
		}
	}
	s.endEvents(along, across, n.r, t, add)
	return events
}

// endEvents adds the crossings of a circle of radius r about along, across with
// the two half circles at the ends of t.
func (s *capsules) endEvents(along, across, r float64, t *capsule, add func(x, y float64, element int32, enters bool)) {
	for end := range 2 {
		node, at := t.a, 0.0
		if end == 1 {
			if t.length == 0 {
				return
			}
			node, at = t.b, t.length
		}
		dx, dy := at-along, -across
		d2 := dx*dx + dy*dy
		if !crosses(r+t.r, d2) || d2 <= (r-t.r)*(r-t.r) {
			continue
		}
		to, half := chord(r, t.r, d2)
		d := math.Sqrt(d2)
		ux, uy := dx/d, dy/d
		for k, h := range [2]float64{half, -half} {
			x, y := to*ux+h*uy, to*uy-h*ux
			place := along + x
			if t.length == 0 || (end == 0 && place <= 0) || (end == 1 && place > t.length) {
				add(x, y, s.circle(node), k == 0)
			}
		}
	}
}
