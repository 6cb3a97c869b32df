package learn

import (
	"math"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Arrival is a stand that a batch reports as new.
type Arrival struct {
	StandID   string
	Quarter   survey.Quarter
	At        orb.Point  // degrees
	On        flow.Place // edge -1 for none
	Kind      Kind
	Look      int32 // index of the look in which it was found; -1 for none
	Stream    string
	Water     string
	RiverKm   geo.Kilometers // NaN for none
	Above     []flow.Piece   // for a stand without a known source: where its source may be
	AboveKm   geo.Kilometers // total length of Above
	Stretches []string       // ids of the stretches of Above, nearest first

	batch int32
}

// Kind says whether and how a new stand counts.
type Kind uint8

// The kinds. Only hits and misses count in testing the map of risk.
const (
	Hit     Kind = iota // on stream that was at risk
	Miss                // on stream surveyed before and not at risk
	Upland              // away from the water
	Clonal              // so near a known stand that it counts as its growth
	TooTall             // too tall to have arrived since the last look
	Unseen              // on stream without a recorded earlier look, or whose earlier looks missed it
)

// String returns the kind as written in tables.
func (k Kind) String() string {
	return [...]string{"hit", "miss", "off the water", "near a known stand", "too tall to be new", "no look before"}[k]
}

// Counts says whether it counts in testing the map of risk.
func (k Kind) Counts() bool { return k == Hit || k == Miss }

// newStands lists the stands that the batches report as new, by batch and id, each with the look in
// which it was found.
func (c *Chain) newStands(looks []look, o Options) []Arrival {
	type at struct{ cell, now int32 }
	by := make(map[at]int32, len(looks))
	for i := range looks {
		by[at{looks[i].cell, looks[i].now}] = int32(i)
	}
	var out []Arrival
	for now := 1; now < len(c.Batches); now++ {
		b, near := &c.Batches[now], newNearby(&c.Batches[now-1])
		for _, row := range b.Became {
			k := b.find(row.StandID)
			if row.Change != string(lineage.New) || k < 0 || b.Known[k].Absent {
				continue
			}
			one := c.arrival(b, k)
			one.batch, one.Look = int32(now), -1
			if cell := c.Grid.At(one.On); cell >= 0 {
				if i, there := by[at{cell, int32(now)}]; there {
					one.Look = i
				}
			}
			switch {
			case one.On.Edge < 0:
				one.Kind = Upland
			case near.within(b, k, o.Clonal):
				one.Kind = Clonal
			case b.Known[k].StemHeight > o.Tall:
				one.Kind = TooTall
			case one.Look < 0:
				one.Kind = Unseen
			case looks[one.Look].everAtRisk:
				one.Kind = Hit
			default:
				one.Kind = Miss
			}
			out = append(out, one)
		}
	}
	return out
}

// arrival returns the location of a new stand.
func (c *Chain) arrival(b *Batch, k int) Arrival {
	one := Arrival{StandID: b.Known[k].ID, Quarter: b.Quarter, At: b.Known[k].Center, On: b.placeOf(k), RiverKm: geo.Kilometers(math.NaN())}
	if one.On.Edge >= 0 {
		edge := &c.Net.Net.Edges[one.On.Edge]
		one.Stream, one.Water, one.RiverKm = c.Net.Line(edge.Line).ID, c.Net.LineName(edge.Line), edge.RiverKm(one.On.Offset)
	}
	return one
}

// nearby finds patches of a batch near a place.
type nearby struct {
	rows   []patch // sorted by latitude
	widest geo.Meters
}

// patch is a circle: a patch, or the middle of a stand that is gone.
type patch struct {
	at     orb.Point
	radius geo.Meters
}

// radiusOf returns the radius of a circle of an area.
func radiusOf(area geo.SquareMeters) geo.Meters {
	return geo.Meters(math.Sqrt(float64(area) / math.Pi))
}

func newNearby(b *Batch) nearby {
	var n nearby
	add := func(p orb.Point, area geo.SquareMeters) {
		n.rows = append(n.rows, patch{p, radiusOf(area)})
		n.widest = max(n.widest, n.rows[len(n.rows)-1].radius)
	}
	for k := range b.Known {
		if b.Known[k].Absent {
			add(b.Known[k].Center, geo.OfGrains(b.Known[k].Memory.Ever))
		}
		for _, m := range b.Known[k].Members {
			add(b.Records[m].Position, stand.PatchOf(b.Records[m], b.Rules.Stands).Area)
		}
	}
	slices.SortStableFunc(n.rows, func(a, b patch) int {
		switch {
		case a.at[1] < b.at[1]:
			return -1
		case a.at[1] > b.at[1]:
			return 1
		}
		return 0
	})
	return n
}

// degree is a lower bound of a degree of latitude in metres.
const degree = 110000

// within says whether a patch of the batch is within the given distance of a stand.
func (n *nearby) within(b *Batch, k int, distance geo.Meters) bool {
	for _, m := range b.Known[k].Members {
		own := &b.Records[m]
		radius := radiusOf(stand.PatchOf(*own, b.Rules.Stands).Area)
		frame, far := earth.NewFrame(own.Position), float64(distance+radius+n.widest)
		first, _ := slices.BinarySearchFunc(n.rows, own.Position[1]-far/degree, func(p patch, lat float64) int {
			if p.at[1] < lat {
				return -1
			}
			return 1
		})
		for _, p := range n.rows[first:] {
			if p.at[1] > own.Position[1]+far/degree {
				break
			}
			if xy := frame.Forward(p.at); geo.Meters(math.Hypot(xy[0], xy[1]))-radius-p.radius <= distance {
				return true
			}
		}
	}
	return false
}

// stretchesOf returns the ids of the stretches that contain some pieces, nearest first.
func (c *Chain) stretchesOf(pieces []flow.Piece) []string {
	var out []string
	for _, p := range pieces {
		for _, i := range slices.Backward(c.Grid.On(p)) {
			if id := c.Grid.Stretches[c.Grid.Cells[i].Stretch].ID; !slices.Contains(out, id) {
				out = append(out, id)
			}
		}
	}
	return out
}
