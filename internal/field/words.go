package field

// RowScope is what a row of the summary is the sum of.
type RowScope string

// The scopes, in the order of the rows.
const (
	ScopeTotal     RowScope = "total"     // the whole batch
	ScopeWaterBody RowScope = "waterBody" // stands whose nearest stream has the row's name
	ScopeUnnamed   RowScope = "unnamed"   // stands whose nearest stream has no name
	ScopeNoStream  RowScope = "noStream"  // stands of a batch without streams
	ScopeNoStand   RowScope = "noStand"   // control work on no known stand, in addition to the streams

	ScopeUnit         RowScope = "unit"         // inside a reporting unit
	ScopeOutsideUnits RowScope = "outsideUnits" // outside all reporting units
	ScopeNoPlace      RowScope = "noPlace"      // such work without a position, in addition to the units
)

// ByStream and ByUnit are the scopes that each add up to the total.
var (
	ByStream = []RowScope{ScopeWaterBody, ScopeUnnamed, ScopeNoStream, ScopeNoStand}
	ByUnit   = []RowScope{ScopeUnit, ScopeOutsideUnits, ScopeNoPlace}
)

// The parts of the table of work at the water.
const (
	PartProposed = "proposed" // to be treated
	PartDone     = "done"     // control work done
	PartProduct  = "product"  // use of one product in that work
)

// OffDefaults stands before the part of an error of acres that all quarters share.
const OffDefaults = "defaults"

// All stands in the place of a row's group where the row is the sum of all groups.
const All = "all"
