package result

import "driftreach/internal/field"

// Scope says what a summary row is the sum of.
type Scope = field.RowScope

// The scopes, in the order of the rows.
const (
	Total     = field.ScopeTotal
	WaterBody = field.ScopeWaterBody
	Unnamed   = field.ScopeUnnamed
	NoStream  = field.ScopeNoStream
	NoStand   = field.ScopeNoStand

	InUnit       = field.ScopeUnit
	OutsideUnits = field.ScopeOutsideUnits
	NoPlace      = field.ScopeNoPlace
)

// noStandName is the name of the rows for work on no known stand.
const noStandName = "no stand named"
