package stream

import "driftreach/internal/check"

// The rules of water surfaces. A rejected surface has an Error.
var (
	ruleSurfaceEmpty      = check.Rule{Code: "water-empty", Severity: check.Error, Remedy: "draw the water as an area, or remove the row"}
	ruleSurfaceNotFinite  = check.Rule{Code: "water-not-finite", Severity: check.Error, Remedy: "repair the vertex that is no number"}
	ruleSurfaceOutOfRange = check.Rule{Code: "water-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --water-crs, as in EPSG:26911"}
	ruleSurfaceNullIsland = check.Rule{Code: "water-null-island", Severity: check.Error, Remedy: "enter the true corner"}
	ruleSurfaceNoArea     = check.Rule{Code: "water-without-area", Severity: check.Error, Remedy: "draw an outline that encloses water"}
	ruleSurfaceDuplicate  = check.Rule{Code: "water-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleSurfaceRepaired   = check.Rule{Code: "water-outline-repaired", Severity: check.Warning, Remedy: "look at the outline in a viewer; it crosses or touches itself"}
	ruleSurfaceSameID     = check.Rule{Code: "water-id-duplicate", Severity: check.Warning, Remedy: "give each water a water_id of its own"}
	ruleSurfaceNoID       = check.Rule{Code: "water-id-missing", Severity: check.Note, Remedy: "fill in water_id, so that a water can be followed from quarter to quarter"}
	ruleSurfaceKind       = check.Rule{Code: "water-kind-unknown", Severity: check.Warning, Remedy: "use lake or river, or map the word under [values.kind]"}
	ruleSurfaceApart      = check.Rule{Code: "water-without-stream", Severity: check.Note, Remedy: "nothing to do where no stream runs through the water; else draw the centerline through it"}
)

// misplacedSurfaceRules are the rules of corners that cannot be one.
var misplacedSurfaceRules = map[check.Misplaced]check.Rule{
	check.NotFinite: ruleSurfaceNotFinite, check.NullIsland: ruleSurfaceNullIsland, check.OutOfRange: ruleSurfaceOutOfRange,
}

// SurfaceRules returns every rule of water surfaces.
func SurfaceRules() []check.Rule {
	return []check.Rule{
		ruleSurfaceEmpty, ruleSurfaceNotFinite, ruleSurfaceOutOfRange, ruleSurfaceNullIsland, ruleSurfaceNoArea, ruleSurfaceDuplicate,
		ruleSurfaceRepaired, ruleSurfaceSameID, ruleSurfaceNoID, ruleSurfaceKind, ruleSurfaceApart,
	}
}
