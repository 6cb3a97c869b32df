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
		compareNotes(a.Told(), b.Told()),
		geo.CompareAreas(a.Outline, b.Outline),
	)
}

// sighting has what two records of the same sighting have in common.
type sighting struct {
	position orb.Point
	begin    Day
	by       string
}

// spot is the place of a record, by the hash of its position.
type spot struct {
	hash  uint64
	index int
}

// findRepeats warns of records with the same place, day and observer but different ids, except of the
// first by id. The records must be sorted by id.
func (c *checker) findRepeats(records []Record) {
	places := make([]spot, 0, len(records))
	for i := range records {
		if !records[i].Begin.IsZero() {
			places = append(places, spot{placeHash(records[i].Position), i})
		}
	}
	slices.SortFunc(places, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.hash, b.hash), cmp.Compare(a.index, b.index))
	})
	for first := 0; first < len(places); {
		last := first + 1
		for last < len(places) && places[last].hash == places[first].hash {
			last++
		}
		if last-first > 1 {
			c.reportRepeats(records, places[first:last])
		}
		first = last
	}
}

// reportRepeats checks records whose position hashes are equal.
func (c *checker) reportRepeats(records []Record, places []spot) {
	seen := map[sighting]string{}
	for _, p := range places {
		r := &records[p.index]
		key := sighting{r.Position, r.Begin, r.Told().RecordedBy}
		if first, again := seen[key]; again {
			c.Report(r, ruleSameSighting, "", first, "the record has the place, day and observer of "+first+"; both were kept")
			continue
		}
		seen[key] = r.ID
	}
}
