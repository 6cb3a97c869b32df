package verify

import "driftreach/internal/field"

// Column names that several tables have.
const (
	standIDColumn = field.StandID
	acresColumn   = field.InfestedAcres
	toTreatColumn = field.AcresToTreat
	treatedColumn = field.AcresTreated
)

// sameGround is the prefix of a column with a measure's values on the ground known at the end.
const sameGround = "same_ground_"
