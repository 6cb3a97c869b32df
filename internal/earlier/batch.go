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

// Batch is the batch before, as this one continues it.
type Batch struct {
	Quarter      survey.Quarter
	Chain        string             // identity of the chain
	Known        []lineage.Known    // its stands and those not detected since, by id, under the present rules; Members index into Records
	Then         []result.Then      // by known stand: what that batch printed of it
	Restated     bool               // its stands were measured again
	Elsewhere    bool               // its stands may lie otherwise by the present streams
	ReachApart   []string           // files and settings that its reach was made with and this one's is not
	Records      []survey.Record    // of its stands, by id
	From         []survey.Quarter   // by record: the quarter it is of
	Looked       *lineage.Surveyed  // ground looked at in the chain so far
	Stretches    *stretch.Memory    // when its streams were looked at, and what floated by since; nil where it did not keep that
	Units        []result.UnitAcres // what it printed by reporting unit
	ExtraColumns []string           // of the records
	History      result.History
	Followup     []followup.Row     // of every stand known
	Events       []result.Event     // of its calendar
	Treatments   []result.Treatment // control work that the chain knows of
	Ever         []result.EverRow   // stages of all ever mapped, of it and the batches before

	// LookChanges are what its stands counted among the changes of their quarters.
	LookChanges []result.LookChange

	Corrections []correction.Correction // of the chain so far
	Files       []mapfile.File          // what was read of it, for the manifest
	Findings    []check.Finding         // what besides the plant may have moved figures since
}
