package shape

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// closingSegments is the number of sides of a quarter circle in a drawn closing. Our choice: as for
// a disc.
const closingSegments = discSegments / 4

// Closing returns mp with gaps narrower than gap filled: enlarged by half of gap, shrunk by as
// much, and unioned with mp so that the result always contains mp. Morphological closing (Serra
// 1982, Image Analysis and Mathematical Morphology). A gap that is not positive returns mp. mp must
// be valid, see MakeValid.
func Closing(mp orb.MultiPolygon, gap geo.Meters) orb.MultiPolygon {
	return closingOf(mp, gap, closingSegments)
}

func closingOf(mp orb.MultiPolygon, gap geo.Meters, quadrantSegments int) orb.MultiPolygon {
	if !(gap > 0) || len(mp) == 0 {
		return normalize(mp.Clone())
	}
	grown := BufferPolygon(mp, gap/2, quadrantSegments)
	return Union([]orb.MultiPolygon{mp, BufferPolygon(grown, -gap/2, quadrantSegments)}, 1)
}
