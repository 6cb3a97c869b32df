package stream

import "driftreach/internal/check"

// The rules of barriers that are points. A rejected barrier has an Error.
var (
	ruleStructureNotFinite  = check.Rule{Code: "barrier-not-finite", Severity: check.Error, Remedy: "enter a position in finite numbers"}
	ruleStructureOutOfRange = check.Rule{Code: "barrier-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees, or name the reference system with --barriers-crs, as in EPSG:26911"}
	ruleStructureNullIsland = check.Rule{Code: "barrier-null-island", Severity: check.Error, Remedy: "enter the true position; 0, 0 is what a unit without a fix records"}
	ruleStructureKind       = check.Rule{Code: "barrier-kind-unknown", Severity: check.Error, Remedy: "use dam, reservoir, weir or culvert, or map the word under [values.kind]"}
	ruleStructurePass       = check.Rule{Code: "barrier-pass-out-of-range", Severity: check.Warning, Remedy: "give barrier_pass as 0 to 1, or leave it blank for the share of its kind"}
	ruleStructureDuplicate  = check.Rule{Code: "barrier-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleStructureSameID     = check.Rule{Code: "barrier-id-duplicate", Severity: check.Warning, Remedy: "give each barrier a barrier_id of its own"}
	ruleStructureNoID       = check.Rule{Code: "barrier-id-missing", Severity: check.Note, Remedy: "fill in barrier_id, so that a barrier can be followed from quarter to quarter"}
	ruleStructureFar        = check.Rule{Code: "barrier-far-from-streams", Severity: check.Error, Remedy: "correct the position, or add the stream the barrier stands on"}
	ruleStructureTogether   = check.Rule{Code: "barrier-same-place", Severity: check.Error, Remedy: "remove one of the two; what stands one behind the other needs places of their own"}
	ruleStructureJunction   = check.Rule{Code: "barrier-without-effect", Severity: check.Warning, Remedy: "remove one of two barriers at one junction, or move it to the stream it stands on"}
	ruleStructureOnBarrier  = check.Rule{Code: "barrier-on-stream-too", Severity: check.Note, Remedy: "nothing to do; or leave the barrier column of the line blank"}
)

// misplacedRules are the rules of positions that cannot be one.
var misplacedRules = map[check.Misplaced]check.Rule{
	check.NotFinite: ruleStructureNotFinite, check.NullIsland: ruleStructureNullIsland, check.OutOfRange: ruleStructureOutOfRange,
}

// StructureRules returns every rule of barriers that are points.
func StructureRules() []check.Rule {
	return []check.Rule{
		ruleStructureNotFinite, ruleStructureOutOfRange, ruleStructureNullIsland, ruleStructureKind, ruleStructurePass,
		ruleStructureDuplicate, ruleStructureSameID, ruleStructureNoID, ruleStructureFar, ruleStructureTogether, ruleStructureJunction, ruleStructureOnBarrier,
	}
}
