package batch

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/host"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// sliverStands are plants that never change, in metres and square metres, of every kind
// of patch that is looked at in its own way: small ones in rows and blocks, alone, some
// larger than is seen or not as one, and drawn ones (of negative area).
func sliverStands() (plants [][3]float64) {
	for k := range 12 {
		y := float64(k)*12 - 700
		plants = append(plants, [3]float64{20, y, 120}, [3]float64{420 + float64(k%3)*11, float64(k/3)*11 - 700, 60}) // a row, a block
		plants = append(plants, [3]float64{430, float64(k)*100 - 500, 40})                                            // each alone
		plants = append(plants, [3]float64{820 + float64(k%2)*25, float64(k)*22 - 700, 1300})                         // large ones
		plants = append(plants, [3]float64{825, float64(k)*70 - 300, -900})                                           // drawn ones
	}
	return plants
}

// measuredAt are the plants as a receiver of some error finds them, the radius that
// holds 68 %: a Rayleigh deviate's quantile, so that each axis is off by it over 1.51.
func measuredAt(plants [][3]float64, dice *rand.Rand, off float64) []survey.Record {
	deviation := off / math.Sqrt(-2*math.Log(1-0.68))
	var out []survey.Record
	for i, p := range plants {
		at := orb.Point{p[0] + deviation*dice.NormFloat64(), p[1] + deviation*dice.NormFloat64()}
		r := survey.Record{
			ID: fmt.Sprintf("r%04d", i), Position: chainFrame.Inverse(at), Detected: true, Uncertainty: geo.Meters(off),
			PatchArea: geo.SquareMeters(p[2]), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()), Notes: "",
		}
		if p[2] < 0 {
			r.PatchArea = 0
			half := math.Sqrt(-p[2]) / 2
			var ring orb.Ring
			for _, c := range []orb.Point{{-half, -half}, {half, -half}, {half, half}, {-half, half}, {-half, -half}} {
				ring = append(ring, chainFrame.Inverse(orb.Point{at[0] + c[0], at[1] + c[1]}))
			}
			r.Outline = orb.MultiPolygon{{ring}}
		}
		out = append(out, r)
	}
	return out
}

// TestScatterSwellsNoStand: plants that never change, mapped six quarters in a row with a
// position error of 4 and of 8 m, with finds alone and with the lines that were walked,
// some of which end short of plants and some of which see a part of large ones. In the
// summary of every quarter the infested acres are those of its own finds, to the last
// digit: what was found again replaces what was seen, and nothing is carried beside it. At
// the edge of what was looked at before, up to a hundredth is first looked at.
func TestScatterSwellsNoStand(t *testing.T) {
	plants := sliverStands()
	for _, off := range []float64{4, 8} {
		for _, given := range []bool{false, true} {
			t.Run(fmt.Sprintf("%v m, lines %v", off, given), func(t *testing.T) {
				dice, last := rand.New(rand.NewPCG(uint64(off), 11)), ""
				q := survey.Quarter{Year: 2026, Number: 1}
				for range 6 {
					in := observed.Quarter{Quarter: q, Records: survey.Records{Listed: measuredAt(plants, dice, off)}, Centerlines: chainStreams, SurveyedGiven: given, Files: inputsOf("s", "")}
					for _, x := range []float64{20, 430, 778} {
						if given {
							in.Surveyed = append(in.Surveyed, surveyed.Ground{Lines: orb.MultiLineString{chainLine(x)}})
						}
					}
					self, err := Compute(context.Background(), in, chainSettings(), host.Host{Workers: 1})
					if err != nil {
						t.Fatal(err)
					}
					l := link{in: in, dir: filepath.Join(t.TempDir(), q.String())}
					run := l.deliver(t, last, 1)
					got, alone := result.Summarize(run)[0], result.Summarize(self)[0]
					p := got.Change
					if got.Infested != alone.Infested || p.Carried != 0 || p.NotDetected != 0 || p.New != 0 {
						t.Errorf("%s: %d infested and %d of its own finds: %+v", q, got.Infested, alone.Infested, p)
					}
					if last != "" && 100*p.FirstLooked > got.Infested {
						t.Errorf("%s: %d of %d first looked at", q, p.FirstLooked, got.Infested)
					}
					last, q = l.dir, q.Next()
				}
			})
		}
	}
}
