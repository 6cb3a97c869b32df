package stream

import "driftreach/internal/check"

// The rules of this package. A rejected line has an Error; whatever was
// blanked or repaired has a Warning.
var (
	ruleEmpty      = check.Rule{Code: "line-empty", Severity: check.Error, Remedy: "draw the line, or remove the feature"}
	ruleOneVertex  = check.Rule{Code: "line-one-vertex", Severity: check.Error, Remedy: "draw the line with two vertices or more"}
	ruleZeroLength = check.Rule{Code: "line-zero-length", Severity: check.Error, Remedy: "draw the line with two places or more"}
	ruleNotFinite  = check.Rule{Code: "line-not-finite", Severity: check.Error, Remedy: "repair the vertex that is no number"}
	ruleOutOfRange = check.Rule{Code: "line-out-of-range", Severity: check.Error, Remedy: "give WGS 84 degrees: latitude -90 to 90, longitude -180 to 180"}
	ruleSwapped    = check.Rule{Code: "line-swapped", Severity: check.Error, Remedy: "swap longitude and latitude"}
	ruleProjected  = check.Rule{Code: "line-projected", Severity: check.Error, Remedy: "name the reference system with --streams-crs, as in EPSG:26911, or convert the coordinates to WGS 84 degrees"}
	ruleDuplicate  = check.Rule{Code: "line-duplicate", Severity: check.Error, Remedy: "remove the copy"}
	ruleCopy       = check.Rule{Code: "line-copy", Severity: check.Error, Remedy: "remove one of the two; of two streams side by side draw each along its own water"}
	ruleSameID     = check.Rule{Code: "stream-id-duplicate", Severity: check.Warning, Remedy: "give each line a stream_id of its own"}
	ruleNoID       = check.Rule{Code: "stream-id-missing", Severity: check.Note, Remedy: "fill in stream_id, so that a line can be followed from quarter to quarter"}
	ruleRepeated   = check.Rule{Code: "line-vertex-repeated", Severity: check.Note, Remedy: "nothing to do"}
	ruleWrapped    = check.Rule{Code: "line-longitude-wrapped", Severity: check.Note, Remedy: "nothing to do"}
	ruleCrossing   = check.Rule{Code: "line-self-crossing", Severity: check.Warning, Remedy: "look at the line in a viewer; a crossing of its own is a loop in the drawing"}
	ruleClosed     = check.Rule{Code: "line-closed", Severity: check.Warning, Remedy: "cut the ring where the water leaves it"}
	ruleSameNode   = check.Rule{Code: "node-same", Severity: check.Warning, Remedy: "leave from_node and to_node blank where the source has no topology"}
	ruleDivergence = check.Rule{Code: "divergence-unknown", Severity: check.Warning, Remedy: "give divergence as 0 (none), 1 (main path) or 2 (minor path)"}
	ruleShare      = check.Rule{Code: "share-out-of-range", Severity: check.Warning, Remedy: "give the share as 0 to 1"}
	ruleNegative   = check.Rule{Code: "measure-negative", Severity: check.Warning, Remedy: "leave the value blank when it is unknown"}
	ruleBounds     = check.Rule{Code: "stream-measure-implausible", Severity: check.Warning, Remedy: "check the unit, and what the source writes for unknown; leave the value blank when it is unknown"}
	ruleLength     = check.Rule{Code: "stream-length-disagrees", Severity: check.Warning, Remedy: "give length_km in kilometres, or its unit under [units.streams], as in length_km = \"m\"; or leave it blank: the line is measured"}
	ruleCoast      = check.Rule{Code: "line-coast", Severity: check.Note, Remedy: "nothing to do where the lines are a coast; give other lines their feature_type and stream_order, or leave the two blank"}
	rulePermanence = check.Rule{Code: "permanence-unknown", Severity: check.Warning, Remedy: "use perennial, intermittent, ephemeral or blank, or map the word under [values.flow_permanence]"}
	ruleBarrier    = check.Rule{Code: "barrier-unknown", Severity: check.Warning, Remedy: "use dam, reservoir, weir, culvert or blank, or map the word under [values.barrier]"}
)

// Rules returns every rule of this package.
func Rules() []check.Rule {
	return []check.Rule{
		ruleEmpty, ruleOneVertex, ruleZeroLength, ruleNotFinite, ruleOutOfRange, ruleSwapped, ruleProjected,
		ruleDuplicate, ruleCopy, ruleSameID, ruleNoID, ruleRepeated, ruleWrapped, ruleCrossing, ruleClosed,
		ruleSameNode, ruleDivergence, ruleShare, ruleNegative, ruleBounds, ruleLength, ruleCoast, rulePermanence, ruleBarrier,
	}
}
