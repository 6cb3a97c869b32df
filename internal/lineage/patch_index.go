package lineage

import (
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// patches finds records by their patches.
type patches struct {
	records []survey.Record
	radius  []geo.Meters // by record
	index   []int32      // records in spots
	spots   *spots       // records with patches no wider than wide
	wide    boxes        // the other records
}

// wide is the patch radius from which a record is found by its box, in metres. Our choice: few are
// wider.
const wide = 25

// patchSide is the side of the search cells in degrees. Our choice: about the size of the usual
// search.
const patchSide = 0.0005

// newPatches indexes the records for which take returns true. take also returns how far a patch
// reaches from the record's position.
func newPatches(records []survey.Record, take func(*survey.Record) (geo.Meters, bool)) *patches {
	p := &patches{records: records, radius: make([]geo.Meters, len(records))}
	for r := range records {
		radius, taken := take(&records[r])
		switch p.radius[r] = radius; {
		case !taken:
		case radius <= wide:
			p.index = append(p.index, int32(r))
		default:
			at := records[r].Position
			p.wide.add(grown(orb.Bound{Min: at, Max: at}, radius), int32(r))
		}
	}
	p.spots = newSpots(len(p.index), patchSide, func(i int32) orb.Point { return records[p.index[i]].Position })
	return p
}

// about calls look for the records whose patches may come within d of a place, narrow ones first,
// until it returns false.
func (p *patches) about(at orb.Point, d geo.Meters, look func(r int32) bool) {
	spot := orb.Bound{Min: at, Max: at}
	if !p.spots.in(grown(spot, d+wide), func(i int32) bool { return look(p.index[i]) }) {
		return
	}
	for _, r := range p.wide.touching(grown(spot, d)) {
		if !look(r) {
			return
		}
	}
}

// within says whether a record's patch comes within d of a place, in metres of a frame.
func (p *patches) within(frame earth.Frame, r int32, xy orb.Point, d geo.Meters) bool {
	record := &p.records[r]
	away := geo.Distance(xy, frame.Forward(record.Position))
	if record.Outline == nil || away > p.radius[r]+d {
		return away <= p.radius[r]+d
	}
	return shape.Within(frame.Project(record.Outline), xy, d)
}

// radiusOf returns how far a record's patch reaches from its position.
func radiusOf(r *survey.Record, s Settings) geo.Meters {
	if r.Outline == nil {
		return shape.DiscOfArea(orb.Point{}, stand.PatchOf(*r, stand.Settings{DefaultPatch: s.DefaultPatch}).Area).Radius
	}
	frame, farthest := earth.NewFrame(r.Position), 0.0
	for _, polygon := range r.Outline {
		for _, p := range polygon[0] {
			xy := frame.Forward(p)
			farthest = max(farthest, math.Hypot(xy[0], xy[1]))
		}
	}
	return geo.Meters(farthest)
}
