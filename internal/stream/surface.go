package stream

import (
	"slices"
	"strings"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
)

// Surface is one water surface drawn as an area, a lake or a wide river, read and checked.
type Surface struct {
	ID    string // water_id, unique in a batch
	Name  string // waterBody; blank for not given
	File  string // as the user named it
	Row   int    // its place in the file, counted from 1
	Kind  SurfaceKind
	Areas orb.MultiPolygon // WGS 84 degrees, rings closed; longitudes continue past 180 without a jump
}

// pastAntimeridian is how far, in degrees, a query about a surface may reach past 180. Our choice:
// no query covers more.
const pastAntimeridian = 20

// EveryTurn returns the areas with copies that can be found from either side of the antimeridian.
func (s *Surface) EveryTurn() orb.MultiPolygon { return earth.EveryTurn(s.Areas, pastAntimeridian) }

// SurfaceKind says whether the water of a surface is still or flowing.
type SurfaceKind string

// The kinds, in the words of the kind column.
const (
	Lake  SurfaceKind = "lake"  // one reservoir: it holds back part of what enters, and fragments may land anywhere on its shore
	River SurfaceKind = "river" // flows along its centerlines
)

// surfaceWords are other words for the kinds: names in the National Hydrography Dataset, and the
// codes of its feature types [P: U.S. Geological Survey, NHD feature catalog].
var surfaceWords = map[SurfaceKind][]string{
	Lake:  {"lake", "pond", "reservoir", "lakepond", "lake/pond", "390", "436"},
	River: {"river", "stream", "streamriver", "stream/river", "canalditch", "canal/ditch", "canal", "estuary", "460", "336", "493"},
}

// ParseSurfaceKind reads a word of the kind column; case does not matter. Of a five-digit feature
// code it reads the feature type, the first three digits.
func ParseSurfaceKind(word string) (SurfaceKind, bool) {
	w := strings.ToLower(strings.TrimSpace(word))
	if len(w) == 5 && strings.Trim(w, "0123456789") == "" {
		w = w[:3]
	}
	for _, kind := range []SurfaceKind{Lake, River} {
		if slices.Contains(surfaceWords[kind], w) {
			return kind, true
		}
	}
	return "", false
}
