package earlier

import (
	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// Batch is the previous batch, as input of this one.
type Batch struct {
	Quarter      survey.Quarter
	Chain        string             // identity of the chain
	Known        []lineage.Known    // its stands and those not detected since, by id, under the present rules; Members index into Records
	Then         []result.Then      // by known stand: what the previous batch printed
	Restated     bool               // its stands were measured again under the present rules
	Elsewhere    bool               // its stands may have another place along the present streams
	ReachApart   []string           // files and settings in which the reach of the two batches differs
	Records      []survey.Record    // of its stands, by id
	From         []survey.Quarter   // by record: the quarter it was surveyed in
	Looked       *lineage.Surveyed  // ground surveyed in the chain so far
	Stretches    *stretch.Memory    // when its streams were surveyed, and the fragments since; nil if the batch did not record that
	Units        []result.UnitAcres // its printed acres by reporting unit
	ExtraColumns []string           // of the records
	History      result.History
	Followup     []followup.Row     // of every known stand
	Events       []result.Event     // of its calendar
	Treatments   []result.Treatment // control work known in the chain
	Ever         []result.EverRow   // stages of all stands ever mapped, in it and the batches before

	// LookChanges are what its stands added to the changes of their quarters.
	LookChanges []result.LookChange

	Corrections []correction.Correction // of the chain so far
	Files       []mapfile.File          // files read from it, for the manifest
	Findings    []check.Finding         // what else, besides the plant, may have changed figures since
}
