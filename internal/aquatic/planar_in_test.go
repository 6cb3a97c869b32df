package aquatic

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"
)

// TestPlanarIn: the places of a line in a box are those of the whole line that the box holds, to the last
// bit, whichever way the line runs.
func TestPlanarIn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		whole := rapid.IntRange(-40, 40)
		at := func(what string) orb.Point {
			return orb.Point{float64(whole.Draw(t, what+" x")) / 4, float64(whole.Draw(t, what+" y")) / 4}
		}
		var line orb.LineString
		for range rapid.IntRange(1, 6).Draw(t, "vertices") {
			line = append(line, at("vertex"))
		}
		box := orb.MultiPoint{at("corner"), at("corner")}.Bound()
		step := rapid.SampledFrom([]float64{0.1, 1, 30}).Draw(t, "step")
		var want, got []string
		note := func(list *[]string) func(orb.Point, int, float64) {
			return func(xy orb.Point, segment int, along float64) {
				if box.Contains(xy) {
					*list = append(*list, fmt.Sprint(xy, segment, along))
				}
			}
		}
		eachPlanar(line, step, note(&want))
		eachPlanarIn(box.Pad(step), line, step, note(&got))
		if !slices.Equal(got, want) {
			t.Errorf("in %v: %v, want %v", box, got, want)
		}
	})
}

// TestPlanarInIsShort: of ten kilometres, only the places beside the box are looked at.
func TestPlanarInIsShort(t *testing.T) {
	line := orb.LineString{{0, 0}, {6000, 8000}}
	looks, first := 0, math.Inf(1)
	eachPlanarIn(orb.Bound{Min: orb.Point{300, 400}, Max: orb.Point{306, 408}}, line, 1, func(xy orb.Point, _ int, _ float64) {
		looks++
		first = min(first, math.Hypot(xy[0], xy[1]))
	})
	// from 500 to 510 m along, some on both sides, and the end of the line
	if looks < 11 || looks > 16 || first < 498 || first > 500 {
		t.Errorf("%d places from %v m on", looks, first)
	}
}
