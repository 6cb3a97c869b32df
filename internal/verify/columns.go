package verify

import "driftreach/internal/field"

// Column names that several tables have.
const (
	standIDColumn = field.StandID
	acresColumn   = field.InfestedAcres
	toTreatColumn = field.AcresToTreat
	treatedColumn = field.AcresTreated
)
