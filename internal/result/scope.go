package result

// Scope says what a summary row is the sum of.
type Scope string

// The scopes, in the order of the rows.
const (
	Total     Scope = "total"     // the whole batch
	WaterBody Scope = "waterBody" // stands whose nearest stream has the row's name
	Unnamed   Scope = "unnamed"   // stands whose nearest stream has no name
	NoStream  Scope = "noStream"  // stands of a batch without streams

	InUnit       Scope = "unit"         // inside a reporting unit
	OutsideUnits Scope = "outsideUnits" // outside all reporting units

	NoStand Scope = "noStand" // control work on no known stand, in addition to the streams
	NoPlace Scope = "noPlace" // such work without a position, in addition to the units
)

// noStandName is the name of the rows for work on no known stand.
const noStandName = "no stand named"
