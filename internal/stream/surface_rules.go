package stream

import "driftreach/internal/check"

var surfaceBook check.Book

// The rules of water surfaces. A rejected surface has an Error.
var (
	ruleSurfaceEmpty     = surfaceBook.Error("water-empty", "draw the water as an area, or remove the row")
	surfaceMisplaced     = surfaceBook.Misplaced("water", "--water-crs", check.RepairVertex, "enter the true corner")
	ruleSurfaceNoArea    = surfaceBook.Error("water-without-area", "draw an outline that encloses water")
	ruleSurfaceDuplicate = surfaceBook.Duplicate("water")
	ruleSurfaceRepaired  = surfaceBook.Repaired("water")
	ruleSurfaceSameID    = surfaceBook.Warning("water-id-duplicate", "give each water its own water_id")
	ruleSurfaceNoID      = surfaceBook.Note("water-id-missing", "fill in water_id, so that a water can be followed from quarter to quarter")
	ruleSurfaceKind      = surfaceBook.Warning("water-kind-unknown", "use lake or river, or map the word under [values.kind]")
	ruleSurfaceApart     = surfaceBook.Note("water-without-stream", "nothing to do if no stream runs through the water; else draw the centerline through it")
)

// SurfaceRules returns every rule of water surfaces.
func SurfaceRules() []check.Rule { return surfaceBook.Rules() }
