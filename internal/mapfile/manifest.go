package mapfile

import (
	"encoding/json"
	"io"
)

// Manifest says how a batch came about: enough to run it again and to tell
// whether a file was changed since. It holds no clock time.
type Manifest struct {
	Program  string   `json:"program"`
	Version  string   `json:"version"`
	Format   int      `json:"format"`                   // of the folder's files; WriteManifest writes that of now
	Formats  string   `json:"format_version,omitempty"` // FormatVersion; blank in folders of before it was named
	Quarter  string   `json:"quarter"`
	Edition  string   `json:"edition,omitempty"`          // folder.Public; blank for the whole batch
	Chain    string   `json:"chain,omitempty"`            // identity of the chain of batches: that of its first
	Earlier  string   `json:"previous_quarter,omitempty"` // of the batch that this one continues
	Settings any      `json:"settings"`                   // as used; must marshal in a fixed order
	Assumed  []string `json:"assumed"`                    // settings left at a default without a published source
	Seed     uint64   `json:"seed"`                       // of the samples, or of the demo
	Inputs   []File   `json:"inputs"`
	// Water is the SHA-256 of what the streams, barriers and water surfaces say, by role,
	// whatever the file they came in; nil in folders of before it was kept.
	Water   map[string]string `json:"water_sha256,omitempty"`
	Outputs []File            `json:"outputs"`
	Counts  map[string]int    `json:"counts"`
	Balance []Balance         `json:"balance"` // a water stage each

	Corrections []Correction `json:"corrections,omitempty"` // that count in the chain up to this batch
}

// File is one input or output of a batch.
type File struct {
	Name     string `json:"name"`
	Role     string `json:"role"` // points, streams, settings; what the file is
	SHA256   string `json:"sha256"`
	Bytes    int64  `json:"bytes"`
	Read     int    `json:"read"` // records in the file
	Accepted int    `json:"accepted"`
	Rejected int    `json:"rejected"`
	SetAside int    `json:"set_aside,omitempty"` // of an earlier quarter, or looked at again later
}

// Balance is the mass balance of the fragments at one water stage: released = settled
// + held at barriers + lost to age + left at outlets.
type Balance struct {
	Stage    string  `json:"stage"`
	Released float64 `json:"released"`
	Settled  float64 `json:"settled"`
	Held     float64 `json:"held_at_barriers"`
	Aged     float64 `json:"lost_to_age"`
	Left     float64 `json:"left_at_outlets"`
}

// Correction is what somebody found out about a record or a stand, and what came of
// it.
type Correction struct {
	Date     string   `json:"date"`
	Kind     string   `json:"correction"`
	RecordID string   `json:"occurrenceID,omitempty"`
	StandID  string   `json:"stand_id,omitempty"`
	OtherID  string   `json:"other_stand_id,omitempty"`
	Reason   string   `json:"reason,omitempty"`
	Taken    string   `json:"taken_up_in"`       // quarter of the batch that took it up
	Effect   string   `json:"effect"`            // what it did there
	Records  []string `json:"records,omitempty"` // occurrenceIDs that it withdrew
	Stands   []string `json:"stands,omitempty"`  // stands that it took out, or made of parts of others
}

// WriteManifest writes manifest.json, with the Format and the FormatVersion of now. Counts come out sorted
// by name, so that the same manifest is the same bytes.
func WriteManifest(w io.Writer, m Manifest) error {
	m.Format, m.Formats = Format, FormatVersion
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(m)
}
