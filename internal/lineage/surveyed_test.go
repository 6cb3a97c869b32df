package lineage

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
)

// TestGroundAboutRecords: every place on the true circle around a record is in the ground, for a
// single record, a row, and a thousand records. The ground is larger than the circles together by
// at most two sagittas of their outline. The exact area of circles is compared with GEOS in
// geo/shape.
func TestGroundAboutRecords(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 3))
	crowd := make([]plant, 400)
	for i := range crowd {
		crowd[i] = plant{rng.Float64() * 600, rng.Float64() * 600, 1 + 300*rng.Float64()}
	}
	for name, plants := range map[string][]plant{
		"one": {{0, 0, 100}}, "two apart": {{0, 0, 100}, {500, 0, 100}}, "a row": {{0, 0, 50}, {30, 0, 900}, {60, 0, 50}, {90, 0, 50}},
		"one place": {{0, 0, 50}, {0, 0, 50}, {0, 0, 70}}, "crowd": crowd,
	} {
		s := DefaultSettings()
		now := Now{Records: records(plants...)}
		ground := SurveyedNow(now, Evidence{}, s, 2)
		if err := shape.Valid(ground); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		var discs []shape.Disc
		outline := 0.0
		for i := range now.Records {
			r := &now.Records[i]
			d := shape.Disc{Center: base.Forward(r.Position), Radius: radiusOf(r, s) + s.JoinDistance}
			discs = append(discs, d)
			outline += 2 * math.Pi * float64(d.Radius)
			for k := range 360 {
				sin, cos := math.Sincos(float64(k) * math.Pi / 180)
				at := earth.NewFrame(r.Position).Inverse(orb.Point{float64(d.Radius) * cos, float64(d.Radius) * sin})
				if !shape.Contains(ground, at) {
					t.Fatalf("%s: %d degrees from record %s on the ground ends", name, k, r.ID)
				}
			}
		}
		got, want := float64(earth.Area(ground)), float64(shape.UnionDiscsArea(discs))
		if got < want || got > want+2*outline*float64(coarseChord) {
			t.Errorf("%s: %.1f m2 of ground about circles of %.1f m2", name, got, want)
		}
	}
}
