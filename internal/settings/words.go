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

// noneDry is the word of drift.dry_at_base for no line at all.
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

// manyStands is the most stands of a batch whose outputs of planning are written without
// being asked for. Our choice: above that they are a tenth of a batch's time.
const manyStands = 5000

// written says whether an output is wanted of a batch with so many stands.
func written(word string, stands int) bool {
	return word == always || word == auto && stands <= manyStands
}
