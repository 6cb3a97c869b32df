package stream

import "driftreach/internal/check"

var book check.Book

// The rules of this package. A rejected line has an Error; a line with a blanked or repaired value
// has a Warning.
var (
	ruleEmpty      = book.Error("line-empty", "draw the line, or remove the feature")
	ruleOneVertex  = book.Error("line-one-vertex", "draw the line with two vertices or more")
	ruleZeroLength = book.Error("line-zero-length", "draw the line with two places or more")
	ruleNotFinite  = book.Error("line-not-finite", "repair the vertex that is not a number")
	ruleOutOfRange = book.Error("line-out-of-range", "give WGS 84 degrees: latitude -90 to 90, longitude -180 to 180")
	ruleSwapped    = book.Error("line-swapped", "swap longitude and latitude")
	ruleProjected  = book.Error("line-projected", "name the reference system with --streams-crs, as in EPSG:26911, or convert the coordinates to WGS 84 degrees")
	ruleDuplicate  = book.Duplicate("line")
	ruleCopy       = book.Error("line-copy", "remove one of the two; if there are two streams side by side, draw each along its own channel")
	ruleSameID     = book.Warning("stream-id-duplicate", "give each line its own stream_id")
	ruleNoID       = book.Note("stream-id-missing", "fill in stream_id, so that a line can be followed from quarter to quarter")
	ruleRepeated   = book.Note("line-vertex-repeated", "nothing to do")
	ruleWrapped    = book.Note("line-longitude-wrapped", "nothing to do")
	ruleCrossing   = book.Warning("line-self-crossing", "look at the line in a viewer; where it crosses itself the drawing has a loop")
	ruleClosed     = book.Warning("line-closed", "open the ring where the water leaves it")
	ruleSameNode   = book.Warning("node-same", "leave from_node and to_node blank where the source has no topology")
	ruleDivergence = book.Warning("divergence-unknown", "give divergence as 0 (none), 1 (main path) or 2 (minor path)")
	ruleShare      = book.Warning("share-out-of-range", "give the share as 0 to 1")
	ruleNegative   = book.Warning("measure-negative", "leave the value blank when it is unknown")
	ruleBounds     = book.Warning("stream-measure-implausible", "check the unit; check what the source writes for unknown, and leave such values blank")
	ruleLength     = book.Warning("stream-length-disagrees", "give length_km in kilometres, or its unit under [units.streams], as in length_km = \"m\"; or leave it blank: the line is measured")
	ruleCoast      = book.Note("line-coast", "nothing to do if the lines are a coast; else correct feature_type and stream_order, or leave both blank")
	rulePermanence = book.Warning("permanence-unknown", "use perennial, intermittent, ephemeral or blank, or map the word under [values.flow_permanence]")
	ruleBarrier    = book.Warning("barrier-unknown", "use dam, reservoir, weir, culvert or blank, or map the word under [values.barrier]")
)

// Rules returns every rule of this package.
func Rules() []check.Rule { return book.Rules() }
