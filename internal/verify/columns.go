package verify

import "driftreach/internal/field"

// Columns of several tables.
const (
	standIDColumn = field.StandID
	acresColumn   = field.InfestedAcres
	toTreatColumn = field.AcresToTreat
	treatedColumn = field.AcresTreated
)

// sameGround stands before a measure's column: its values on the ground known at the end.
const sameGround = "same_ground_"
