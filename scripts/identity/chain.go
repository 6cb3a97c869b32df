package main

import (
	"context"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/batch"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/margin"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
)

// middle is the position of the stream. Our choice: any place will do.
var middle = earth.NewFrame(orb.Point{-40, -33})

// chain is one programme over several quarters.
type chain struct {
	family family
	error  float64 // radius in metres that contains 68 % of the positions
	dice   *rand.Rand
	errors *rand.Rand // of patches; separate, so that positions are the same without these errors
	shapes []shape    // by place
	dir    string

	off   margin.Settings // errors of patches
	crews [2]crew         // of the quarter, alternating from place to place

	stands map[string]string // by known stand: the places and parts of its records
	last   *result.Run
	folder string // folder of the last quarter
}

// named returns a separate seed for every name.
func named(name string) uint64 {
	sum := fnv.New64a()
	sum.Write([]byte(name))
	return sum.Sum64()
}

// crew is a crew's common error: all its patches of a quarter are too large, or too small.
type crew struct {
	name string
	off  float64 // factor on the true area
}

// factor is a lognormal error of mean 1, 1 for an error of 0.
func (c *chain) factor(off float64) float64 {
	variance := math.Log1p(off * off)
	return math.Exp(c.errors.NormFloat64()*math.Sqrt(variance) - variance/2)
}

// follow computes the quarters of one chain and compares each with the truth.
func follow(f family, error float64, seed uint64, places int, dir string) (tally, error) {
	c := chain{
		family: f, error: error, dice: rand.New(rand.NewPCG(seed, 11)), errors: rand.New(rand.NewPCG(seed, named(fmt.Sprint(f.name, error)))),
		off: margin.DefaultSettings(), dir: dir, stands: map[string]string{},
	}
	for range places {
		c.shapes = append(c.shapes, shape{1 + c.dice.IntN(3), 8 + 6*c.dice.Float64(), 36 + 20*c.dice.Float64()})
	}
	var all tally
	q := survey.Quarter{Year: 2026, Number: 1}
	for k := range quarters {
		now, folder, err := c.deliver(c.observe(k, q))
		if err != nil {
			return all, fmt.Errorf("%s: %w", q, err)
		}
		t, err := c.judge(now, k, folder)
		if err != nil {
			return all, err
		}
		all.add(t)
		c.last, c.folder, q = now, folder, q.Next()
	}
	return all, nil
}

func circle(radius float64) float64 { return math.Pi * radius * radius }

// deviation is the standard deviation in x and in y for which 68 % of draws are within a radius, by
// the inverse of the Rayleigh distribution.
func deviation(radius float64) float64 { return radius / math.Sqrt(-2*math.Log(1-0.68)) }

// at returns a place with the position error of a receiver.
func (c *chain) at(place int, x, along float64) orb.Point {
	s := deviation(c.error)
	y := float64(place)*(longest+apart) + along
	return middle.Inverse(orb.Point{x + s*c.dice.NormFloat64(), y + s*c.dice.NormFloat64()})
}

// observe returns the data of one quarter's survey.
func (c *chain) observe(k int, q survey.Quarter) observed.Quarter {
	for i, name := range []string{"North", "South"} {
		c.crews[i] = crew{name, c.factor(c.off.PatchShared)}
	}
	in := observed.Quarter{Quarter: q, Centerlines: c.streams(), SurveyedGiven: c.family.given}
	for place, shape := range c.shapes {
		if !c.family.goes(place, k) {
			continue
		}
		plants := c.family.plants(shape, place, k)
		crew := c.crews[place%len(c.crews)]
		for i, p := range plants {
			r := c.record(fmt.Sprintf("%03d.%s.%03d", place, p.part, i), c.at(place, p.x, p.y))
			r.Detected, r.PatchArea = true, geo.SquareMeters(p.area*crew.off*c.factor(c.off.PatchOwn))
			r.Notes = survey.Notes{RecordedBy: crew.name}.Pack()
			in.Records.Listed = append(in.Records.Listed, r)
		}
		from, to := c.family.ever(shape, place)
		for t, x := range shape.tracks() {
			var path orb.LineString
			for y := from - stride; y < to+stride; y += stride {
				path = append(path, c.at(place, x, y))
				if !c.family.given && !slices.ContainsFunc(plants, func(p plant) bool { return math.Abs(p.y-y) < stride }) {
					in.Records.Listed = append(in.Records.Listed, c.record(fmt.Sprintf("%03d.none.%d.%03.0f", place, t, y+stride), c.at(place, x, y)))
				}
			}
			if c.family.given {
				in.Surveyed = append(in.Surveyed, surveyed.Ground{Lines: orb.MultiLineString{path}})
			}
		}
	}
	slices.SortFunc(in.Records.Listed, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
	return in
}

// stride is the distance, in metres, between the positions of a track, and between the records of
// nothing found. Our choice.
const stride = 12

func (c *chain) record(id string, at orb.Point) survey.Record {
	return survey.Record{ID: id, Position: at, Uncertainty: geo.Meters(c.error), Cover: 50, StemHeight: geo.Meters(math.NaN())}
}

// streams returns one stream that passes all places.
func (c *chain) streams() []stream.Centerline {
	far := float64(len(c.shapes)) * (longest + apart)
	return []stream.Centerline{{
		ID: "1", Name: "Long Water", BankfullWidth: 4, FlowShare: geo.Share(math.NaN()), BarrierPass: geo.Share(math.NaN()),
		Path: orb.LineString{middle.Inverse(orb.Point{0, far}), middle.Inverse(orb.Point{0, far / 2}), middle.Inverse(orb.Point{0, -100})},
	}}
}

// deliver computes a quarter from the folder of the last one and writes its folder.
func (c *chain) deliver(in observed.Quarter) (*result.Run, string, error) {
	ctx, host, s := context.Background(), host.Host{Workers: 1}, settings.Default()
	s.Drift.Draws = 0
	var err error
	if c.folder == "" {
		in, err = batch.Begin(in, s)
	} else {
		in, err = batch.GoOn(ctx, earlier.Folder{Name: filepath.Base(c.folder), Path: c.folder, Version: "simulated"}, in, s, host)
	}
	if err != nil {
		return nil, "", err
	}
	now, err := batch.Compute(ctx, in, s, host)
	if err != nil {
		return nil, "", err
	}
	dir := filepath.Join(c.dir, in.Quarter.String())
	err = folder.Make(ctx, folder.Out{Dir: dir}, func(f *folder.Folder) error {
		return batch.Delivery{Version: "simulated", Settings: s, Inputs: in.Files, Water: in.WaterContent()}.Deliver(f, now, host)
	})
	return now, dir, err
}
