package stream

import "driftreach/internal/check"

var structureBook check.Book

// The rules of point barriers. A rejected barrier has an Error.
var (
	structureMisplaced     = structureBook.Misplaced("barrier", "--barriers-crs", "enter a position in finite numbers", "enter the true position; 0, 0 is what a unit without a fix records")
	ruleStructureKind      = structureBook.Error("barrier-kind-unknown", "use dam, reservoir, weir or culvert, or map the word under [values.kind]")
	ruleStructurePass      = structureBook.Warning("barrier-pass-out-of-range", "give barrier_pass as 0 to 1, or leave it blank for the share of its kind")
	ruleStructureDuplicate = structureBook.Duplicate("barrier")
	ruleStructureSameID    = structureBook.Warning("barrier-id-duplicate", "give each barrier its own barrier_id")
	ruleStructureNoID      = structureBook.Note("barrier-id-missing", "fill in barrier_id, so that a barrier can be followed from quarter to quarter")
	ruleStructureFar       = structureBook.Error("barrier-far-from-streams", "correct the position, or add the stream that the barrier is on")
	ruleStructureTogether  = structureBook.Error("barrier-same-place", "remove one of the two; two barriers in a row need two different positions")
	ruleStructureJunction  = structureBook.Warning("barrier-without-effect", "remove one of the two barriers at the junction, or move it onto its own stream")
	ruleStructureOnBarrier = structureBook.Note("barrier-on-stream-too", "nothing to do; or leave the barrier column of the line blank")
)

// StructureRules returns every rule of point barriers.
func StructureRules() []check.Rule { return structureBook.Rules() }
