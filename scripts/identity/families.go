package main

import "slices"

// places is the number of places of a family along the stream.
const places = 20

// quarters is the number of quarters in a chain.
const quarters = 3

// In metres: the longest stand along the stream, the distance between the stands of two places, and
// the distance of the first row of plants from the stream.
const (
	longest = 168.0
	apart   = 60.0
	nearest = 8.0
)

// shape is the arrangement of plants at a place: rows along the stream, a step apart. It differs
// from place to place and is the same in every quarter.
type shape struct {
	rows int
	step float64 // metres
	gap  float64 // metres between the two stands of a place with two
}

// A plant's circle does not touch its neighbours', even where one record represents two plants of
// its row: its radius is 0.42 steps, times the square root of two for such records; rows are 1.3
// steps apart.
const (
	radius  = 0.42
	spacing = 1.3
)

// part is a run of plants of one stand, from one place along the stream to another, in metres. Its
// name is letters: parts of a place that share a letter are the same stand.
type part struct {
	name     string
	from, to float64
	every    int     // one plant in this many of a row is recorded
	offset   float64 // steps by which the recorded plants are shifted along the row
}

// family is the story of the places of one kind.
type family struct {
	name  string
	given bool // surveyed ground is given; otherwise records of nothing found
	parts func(s shape, place, quarter int) []part
	// visited says whether anybody went to a place in a quarter; nil for always.
	visited func(place, quarter int) bool
}

// families are all stories twice: with finds and absences only, and with the tracks that were
// walked.
var families = func() []family {
	var out []family
	for _, f := range stories {
		out = append(out, f)
		f.name, f.given = f.name+", tracks", true
		out = append(out, f)
	}
	return out
}()

// The stands of stories: one stand, its beginning, and two stands separated by a gap.
func run(to float64) part { return part{name: "a", to: to, every: 1} }

func two(s shape) []part {
	return []part{{name: "a", to: 60, every: 1}, {name: "b", from: 60 + s.gap, to: longest, every: 1}}
}

var stories = []family{
	{name: "unchanged", parts: always(run(120))},
	{name: "growth", parts: inTurn(run(72), run(108), run(144))},
	{name: "shrinking", parts: inTurn(run(144), run(96), run(60))},
	{name: "merges", parts: func(s shape, _, quarter int) []part {
		if quarter == 0 {
			return two(s)
		}
		return []part{{name: "ab", to: longest, every: 1}}
	}},
	{name: "splits", parts: func(s shape, _, quarter int) []part {
		if quarter > 0 {
			return two(s)
		}
		return []part{{name: "ab", to: longest, every: 1}}
	}},
	{name: "half a step", parts: inTurn(run(120), part{name: "a", to: 120, every: 1, offset: 0.5}, run(120))},
	{name: "two crews", parts: inTurn(run(120), part{name: "a", to: 120, every: 2, offset: 0.5}, run(120))},
	{name: "gone", parts: atHalf(func(quarter int) bool { return quarter == 0 })},
	{name: "back", parts: atHalf(func(quarter int) bool { return quarter != 1 })},
	{name: "unvisited", parts: always(run(120)), visited: func(place, quarter int) bool { return quarter != 1 || place%2 == 1 }},
}

// always returns a stand that does not change.
func always(p part) func(shape, int, int) []part { return inTurn(p, p, p) }

// inTurn returns a different extent in each quarter.
func inTurn(parts ...part) func(shape, int, int) []part {
	return func(_ shape, _, quarter int) []part { return parts[quarter : quarter+1] }
}

// atHalf removes the stands of every second place in some quarters, and keeps those of the others.
func atHalf(there func(quarter int) bool) func(shape, int, int) []part {
	return func(_ shape, place, quarter int) []part {
		if place%2 == 0 && !there(quarter) {
			return nil
		}
		return []part{run(120)}
	}
}

// goes says whether anybody goes to a place in a quarter.
func (f *family) goes(place, quarter int) bool {
	return f.visited == nil || f.visited(place, quarter)
}

// ever returns the range, in metres along the stream, in which plants of a place ever grew.
func (f *family) ever(s shape, place int) (from, to float64) {
	from = longest
	for q := range quarters {
		for _, p := range f.parts(s, place, q) {
			from, to = min(from, p.from), max(to, p.to)
		}
	}
	return from, to
}

// plant is one record to make.
type plant struct {
	part string
	x, y float64 // metres, from the stream and along it from the place
	area float64
}

// plants returns the plants of a place recorded in a quarter.
func (f *family) plants(s shape, place, quarter int) []plant {
	var out []plant
	for _, p := range f.parts(s, place, quarter) {
		count := int((p.to - p.from) / s.step)
		for first := 0; first < count; first += p.every {
			here := min(p.every, count-first)
			y := p.from + (float64(first)+float64(here-1)/2+p.offset)*s.step
			for row := range s.rows {
				out = append(out, plant{p.name, s.across(float64(row)), y, float64(here) * circle(radius*s.step)})
			}
		}
	}
	return out
}

// across is the distance of a row from the stream.
func (s shape) across(row float64) float64 { return nearest + row*spacing*s.step }

// tracks are the distances from the stream at which somebody walks: along a single row, or between
// rows.
func (s shape) tracks() []float64 {
	if s.rows == 1 {
		return []float64{s.across(0)}
	}
	var out []float64
	for row := range s.rows - 1 {
		out = append(out, s.across(float64(row)+0.5))
	}
	return out
}

// shares says whether two names of parts share a stand.
func shares(a, b string) bool {
	return slices.ContainsFunc([]byte(a), func(letter byte) bool { return slices.Contains([]byte(b), letter) })
}
