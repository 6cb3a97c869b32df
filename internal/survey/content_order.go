package survey

import (
	"cmp"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// compareContent orders records by all their content, without file, row and id; 0 means that they say
// the same.
func compareContent(a, b *Record) int {
	if c := geo.ComparePoints(a.Position, b.Position); c != 0 {
		return c
	}
	return cmp.Or(
		cmp.Compare(a.Begin, b.Begin),
		cmp.Compare(a.End, b.End),
		cmp.Compare(a.Uncertainty, b.Uncertainty),
		geo.CompareBools(a.Detected, b.Detected),
		cmp.Compare(a.Status, b.Status),
		cmp.Compare(a.PatchArea, b.PatchArea),
		cmp.Compare(a.Cover, b.Cover),
		cmp.Compare(a.StemHeight, b.StemHeight),
		compareNotes(a.Notes, b.Notes),
		geo.CompareAreas(a.Outline, b.Outline),
	)
}

// sighting has what two records of the same sighting have in common.
type sighting struct {
	position orb.Point
	begin    Day
	by       string
}

// repeats finds records with the same place, day and observer but different ids.
type repeats struct {
	places []uint64 // of records with a date: half of the hash of the position, and the record's place
}

// next is given the record at a place in the order of ids.
func (p *repeats) next(at int, r *Record) {
	if !r.Begin.IsZero() {
		p.places = append(p.places, placeHash(r.Position)>>32<<32|uint64(uint32(at)))
	}
}

// end warns of all repeats but the first by id. It asks for records whose hashes are equal.
func (p *repeats) end(c *checker, at func(int) *Record) {
	slices.Sort(p.places)
	for first := 0; first < len(p.places); {
		last := first + 1
		for last < len(p.places) && p.places[last]>>32 == p.places[first]>>32 {
			last++
		}
		if last-first > 1 {
			c.reportRepeats(p.places[first:last], at)
		}
		first = last
	}
	p.places = nil
}

// reportRepeats checks records whose hashes are equal, by their place.
func (c *checker) reportRepeats(places []uint64, at func(int) *Record) {
	seen := map[sighting]string{}
	for _, p := range places {
		r := at(int(uint32(p)))
		key := sighting{r.Position, r.Begin, r.RecordedBy()}
		if first, again := seen[key]; again {
			c.Report(r, ruleSameSighting, "", first, "the record has the place, day and observer of "+first+"; both were kept")
			continue
		}
		seen[key] = r.ID
	}
}
