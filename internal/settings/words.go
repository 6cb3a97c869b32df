package settings

// The words of drift.stage.
const (
	BaseStage  = "base"
	FloodStage = "flood"
	BothStages = "both"
)

// The words of network.digitised.
const (
	Downstream = "downstream"
	Upstream   = "upstream"
)

// noneDry is the word of drift.dry_at_base for no lines.
const noneDry = "none"

// The words of settings that are on or off.
const (
	yes = "yes"
	no  = "no"
)

// The words of settings that say when an output is written.
const (
	auto   = "auto"
	always = "always"
	never  = "never"
)

// manyStands is the largest number of stands for which the outputs for planning are written without
// being asked for. Our choice: for more they take a tenth of a batch's time.
const manyStands = 5000

// written says whether an output is written for a batch with the given number of stands.
func written(word string, stands int) bool {
	return word == always || word == auto && stands <= manyStands
}
