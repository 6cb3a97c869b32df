// Package part divides the heavy computing of one batch into independent parts, computes each, and
// combines the results into what a single computation would have given.
//
// A part has some of the detected records and some of the pieces from which the aquatic zone is drawn.
// Records that are connected by steps of at most the join distance are in the same part. They therefore
// form the same stands there (stand.Measure), to the last bit. The result of a part is its stands,
// without identities, how far off their acres may be, the drawn pieces, and the zone of the water
// bodies with all pieces in the part.
package part

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/geo/parallel"
	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// Split says what is the same for all parts of one batch: what was split, and how. Parts and results of
// the same split belong together, whenever and wherever they were computed.
type Split struct {
	Format   int      `json:"format"`   // of the files
	Version  string   `json:"version"`  // of the program
	Machine  string   `json:"machine"`  // processor family: another one may round the last bit differently
	Command  []string `json:"command"`  // the flags of the batch
	Quarter  string   `json:"quarter"`  // such as 2026Q3
	Settings string   `json:"settings"` // in use, as JSON
	Inputs   []Input  `json:"inputs"`   // as read
	Parts    int      `json:"parts"`    // number of parts
	Records  int      `json:"records"`  // number in the batch
	Detected int      `json:"detected"` // those with a detection, which are in stands
	Pieces   int      `json:"pieces"`   // pieces of the zone
}

// Input is one input file of the batch.
type Input struct {
	Role   string `json:"role"`
	Name   string `json:"name"`
	SHA256 string `json:"sha256"`
}

// Format is the present format of the files of parts and results. It is raised whenever what they hold
// changes.
const Format = 4

// ID returns a unique name for the split: a hash of its contents.
func (p *Split) ID() string {
	text, err := json.Marshal(p)
	if err != nil {
		panic(err) // texts and numbers can always be encoded
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:])
}

// Head says what a file of a part or a result contains.
type Head struct {
	Kind   Kind  `json:"kind"`
	Number int   `json:"number"` // counted from 1
	Split  Split `json:"plan"`   // the key that files of format 4 have
}

// Kind is the kind of a file.
type Kind string

// The kinds of files.
const (
	OfPart   Kind = "a part of a batch"
	OfResult Kind = "the result of a part"
)

// Name returns the name of a part's folder: "0007".
func Name(number int) string { return fmt.Sprintf("%04d", number) }

// Most is the largest number of parts. Our choice: what four digits can number.
const Most = 9999

// Part is one part: its input.
type Part struct {
	Rules   Rules
	At      []int32         // by record: its index in the batch, ascending
	Records []survey.Record // only what is needed to measure stands: no ids, no texts
	By      []int32         // by record: the batch's first record of the same observer
	PieceAt []int32         // by piece: its index in the batch, ascending
	Pieces  []aquatic.Piece
	Bodies  []PartBody // water bodies with all pieces in this part

	Write func(shape.OnSteps) Text // writes the shape of a water body as text; nil for none. Not in the file
}

// PartBody is a water body of a part.
type PartBody struct {
	Run
	Name string
}

// Run is some pieces of a part that follow each other, both in the part and in the batch.
type Run struct{ First, Count int32 }

// Rules are the settings that the parts need.
type Rules struct {
	Stands stand.Settings
	Margin margin.Settings
}

// Result is the result of one part.
type Result struct {
	Stands  []stand.Stand  // without identities; members are indices in the batch
	Margins []margin.Stand // by stand; an observer's error is numbered by a record of the batch
	PieceAt []int32        // by piece: its index in the batch
	Zone    []Drawn
	Bodies  []Body // water bodies with all pieces in this part; nothing is left of these in Zone
}

// Drawn is a drawn piece of the zone, as shape.AppendPolygons writes it.
type Drawn []byte

// Body is a water body of the zone.
type Body struct {
	Run // its pieces in the result
	aquatic.Joined
	Name string
	Text Text
}

// Text is the shape of a water body as it is written in a map, deflated.
type Text struct {
	From     [sha256.Size]byte // hash of the shape
	Sum      uint32            // CRC-32 of the text
	Size     uint64            // its length
	Deflated []byte            // up to a byte boundary and without an end mark; nil for none
}

// Make computes a part. The result is the same for any number of workers.
func (p *Part) Make(ctx context.Context, workers int) (Result, error) {
	own := margin.Survey{Records: p.Records, Rules: p.Rules.Stands, Settings: p.Rules.Margin, Observers: margin.ByRecord(p.By)}
	stands, margins, err := own.Measure(workers)
	if err != nil {
		return Result{}, err
	}
	r := Result{Stands: stands, Margins: margins, PieceAt: p.PieceAt, Zone: make([]Drawn, len(p.Pieces)), Bodies: make([]Body, len(p.Bodies))}
	for i := range stands {
		for k, m := range stands[i].Members {
			stands[i].Members[k] = p.At[m]
		}
	}
	drawn := make([]orb.MultiPolygon, len(p.Pieces))
	err = parallel.Each(ctx, len(p.Pieces), workers, func(i int) { drawn[i] = p.Pieces[i].Draw() })
	if err != nil {
		return Result{}, err
	}
	err = parallel.Each(ctx, len(p.Bodies), workers, func(i int) {
		run := p.Bodies[i].Run
		to := run.First + run.Count
		r.Bodies[i] = Body{Run: run, Joined: aquatic.Join(p.Pieces[run.First:to], drawn[run.First:to]), Name: p.Bodies[i].Name}
		if p.Write != nil {
			r.Bodies[i].Text = p.Write(r.Bodies[i].Geometry)
		}
	})
	for i, area := range drawn {
		r.Zone[i] = shape.AppendPolygons(nil, area)
	}
	return r, err
}
