package mapfile

import (
	"encoding/json"
	"io"
)

// Manifest says how a batch was made: enough to run it again, and to tell whether a file was changed
// since. It contains no clock time.
type Manifest struct {
	Program  string   `json:"program"`
	Version  string   `json:"version"`
	Format   int      `json:"format"`                   // of the folder's files; WriteManifest writes the present one
	Formats  string   `json:"format_version,omitempty"` // FormatVersion; blank in folders from before it was introduced
	Quarter  string   `json:"quarter"`
	Edition  string   `json:"edition,omitempty"`          // folder.Public; blank for the whole batch
	Chain    string   `json:"chain,omitempty"`            // name of the chain, made from its first batch
	Earlier  string   `json:"previous_quarter,omitempty"` // of the batch that this one continues
	Settings any      `json:"settings"`                   // in use; must marshal in a fixed order
	Assumed  []string `json:"assumed"`                    // settings left at a default without a published source
	Seed     uint64   `json:"seed"`                       // of the samples, or of the demo
	Inputs   []File   `json:"inputs"`
	// Water is the SHA-256 of the contents of streams, barriers and water surfaces, by role and
	// independent of their files; nil in folders from before it was recorded.
	Water   map[string]string `json:"water_sha256,omitempty"`
	Outputs []File            `json:"outputs"`
	Counts  map[string]int    `json:"counts"`
	Balance []Balance         `json:"balance"` // one for each water stage

	Corrections []Correction `json:"corrections,omitempty"` // in force in the chain up to this batch
}

// File is one input or output of a batch.
type File struct {
	Name     string `json:"name"`
	Role     string `json:"role"` // points, streams, settings; or what the file is
	SHA256   string `json:"sha256"`
	Bytes    int64  `json:"bytes"`
	Read     int    `json:"read"` // records in the file
	Accepted int    `json:"accepted"`
	Rejected int    `json:"rejected"`
	SetAside int    `json:"set_aside,omitempty"` // of an earlier quarter, or recorded again later
}

// Balance is the mass balance of the fragments at one water stage: released = settled + held at
// barriers + lost to age + left at outlets.
type Balance struct {
	Stage    string  `json:"stage"`
	Released float64 `json:"released"`
	Settled  float64 `json:"settled"`
	Held     float64 `json:"held_at_barriers"`
	Aged     float64 `json:"lost_to_age"`
	Left     float64 `json:"left_at_outlets"`
}

// Correction is what somebody found out about a record or a stand, and its effect.
type Correction struct {
	Date     string   `json:"date"`
	Kind     string   `json:"correction"`
	RecordID string   `json:"occurrenceID,omitempty"`
	StandID  string   `json:"stand_id,omitempty"`
	OtherID  string   `json:"other_stand_id,omitempty"`
	Reason   string   `json:"reason,omitempty"`
	Taken    string   `json:"taken_up_in"`       // quarter of the batch that applied it
	Effect   string   `json:"effect"`            // what it changed there
	Records  []string `json:"records,omitempty"` // occurrenceIDs that it withdrew
	Stands   []string `json:"stands,omitempty"`  // stands that it removed, or made from parts of others
}

// WriteManifest writes manifest.json with the present Format and FormatVersion. Counts are sorted by
// name, so that equal manifests have equal bytes.
func WriteManifest(w io.Writer, m Manifest) error {
	m.Format, m.Formats = Format, FormatVersion
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(m)
}
