// Package part cuts what one batch is made from into parts that need nothing of each
// other, makes what is heavy of each, and puts it together to what would have been made
// of all at once.
//
// A part is some of the detected records and some of the pieces that the aquatic zone is
// drawn from. Records that a chain of steps of the join distance leads to lie in one
// part: they make the same stands there (stand.Measure), to the last bit. What comes of a
// part is its stands without their identities, and its pieces drawn.
package part

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/parallel"
	"driftreach/internal/aquatic"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Plan is what the parts of one cut share: what they were cut from, and how. Parts and
// results of the same plan belong together, whenever and wherever they were made.
type Plan struct {
	Version  string   `json:"version"`  // of the program
	Machine  string   `json:"machine"`  // the family of processors: another may round the last bit otherwise
	Command  []string `json:"command"`  // the flags of the batch
	Quarter  string   `json:"quarter"`  // as in 2026Q3
	Settings string   `json:"settings"` // as used, in JSON
	Inputs   []Input  `json:"inputs"`   // as read
	Parts    int      `json:"parts"`    // how many there are
	Records  int      `json:"records"`  // of the whole
	Detected int      `json:"detected"` // of those, in stands
	Pieces   int      `json:"pieces"`   // of the zone
}

// Input is one file that the whole was read from.
type Input struct {
	Role   string `json:"role"`
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// ID returns a name of the plan that no other plan has: a hash of all it says.
func (p *Plan) ID() string {
	text, err := json.Marshal(p)
	if err != nil {
		panic(err) // texts and numbers can be written
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// Head says what a part or a result is of.
type Head struct {
	Kind   Kind `json:"kind"`
	Number int  `json:"number"` // from 1
	Plan   Plan `json:"plan"`
}

// Kind is what a file is.
type Kind string

// The kinds of files.
const (
	Cut  Kind = "a part of a batch"
	Made Kind = "the result of a part"
)

// Name returns the name of a part's folder: "0007".
func Name(number int) string { return fmt.Sprintf("%04d", number) }

// Most is the most parts that there may be. Our choice: what four digits number.
const Most = 9999

// Part is one of them: what it is made from.
type Part struct {
	Rules   stand.Settings
	At      []int32         // by record: its index in the whole, ascending
	Records []survey.Record // what measures stands of them: no id, no words
	PieceAt []int32         // by piece: its index in the whole, ascending
	Pieces  []aquatic.Piece
}

// Result is what comes of one part.
type Result struct {
	Stands  []stand.Stand // members by their index in the whole; without identities
	PieceAt []int32       // by piece: its index in the whole
	Zone    []orb.MultiPolygon
}

// Make makes what is heavy of a part. The answer is the same for any number of workers.
func (p *Part) Make(ctx context.Context, workers int) (Result, error) {
	stands, err := stand.Measure(p.Records, p.Rules, workers)
	if err != nil {
		return Result{}, err
	}
	for i := range stands {
		for k, m := range stands[i].Members {
			stands[i].Members[k] = p.At[m]
		}
	}
	r := Result{Stands: stands, PieceAt: p.PieceAt, Zone: make([]orb.MultiPolygon, len(p.Pieces))}
	return r, parallel.Each(ctx, len(p.Pieces), workers, func(i int) { r.Zone[i] = p.Pieces[i].Draw() })
}
