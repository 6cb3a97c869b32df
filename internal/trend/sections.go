package trend

import (
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/survey"
)

// History is a sequence of quarters, including those without a batch, with the figures of each
// section.
type History struct {
	Quarters []survey.Quarter // consecutive
	Known    []bool           // by quarter: there is a batch
	Apart    []bool           // by quarter: the batch does not continue the one before it
	Breaks   []bool           // by quarter: its reach cannot be compared with earlier reach
	Sections []Section        // the total first, then water bodies by name, other streams, units by name
	Trends   []Trend          // for every measure of every section, in order
}

// Section is the total, one stream or one reporting unit, over all quarters.
type Section struct {
	Scope   field.RowScope
	Name    string
	UnitID  string     // identifies a unit; its name is the latest
	Figures []*Figures // by quarter; nil where the batch does not list it

	// Ages are, by quarter, its acres by the ordinal of the quarter of their last look; nil where
	// nobody surveyed any of it in the quarter.
	Ages []map[int]float64

	Offs []*[offs]*Off // by quarter: errors of its acres; nil where unknown

	// Back are, by quarter, the changes counted then that corrections took back later, by acreage;
	// nil for none.
	Back [][acreages]int64
	// Unknown is the index of the last quarter whose changes corrections took back in an unknown
	// amount: values of earlier quarters cannot be compared. 0 for none.
	Unknown int
	// Corrected are the stands whose changes were taken back, sorted.
	Corrected []string
}

// Row is one line of a summary.
type Row struct {
	Scope     field.RowScope
	Name      string
	UnitID    string // for a reporting unit
	Figures   Figures
	Looks     []Look      // acres by the quarter of their last look
	LooksTold bool        // the batch gives the quarters of the last looks
	Off       *[offs]*Off // errors of its live and infested acres; nil where the batch does not give them
}

// Batch is the summary of one finished batch.
type Batch struct {
	Quarter survey.Quarter
	Rows    []Row
	Apart   bool // it does not continue the batch before it

	// ReachApart says that its reach was made with other files or settings than that of the batch
	// before.
	ReachApart bool

	// DefaultShare is the share of its infested acres that rests on default patches; NaN where the
	// summary does not tell.
	DefaultShare float64

	// TakenBack are changes of earlier quarters that corrections took back, in this batch or in
	// earlier batches of the chain.
	TakenBack []TakenBack

	OldNames []string // columns found under the names of an earlier version
}

// scopes are the kinds of sections, in the order they are printed.
var scopes = slices.Concat([]field.RowScope{field.ScopeTotal}, field.ByStream, field.ByUnit)

// Off is the error of a section's acres: independent standard deviations in acres. A nil Off means
// unknown.
type Off struct {
	Defaults float64         // error common to all quarters
	Looks    map[int]float64 // variance, by the ordinal of the quarter of measurement
}

// Their indices.
const (
	offLive = iota
	offInfested
	offs = len(offColumns)
)

// Look is the acreage of a section last surveyed in a quarter.
type Look struct {
	Quarter survey.Quarter
	Acres   int64 // in units of 10^-Decimals
}

// TakenBack is the part of one stand's change, counted in a section and quarter, that a correction
// took back: the stand was a look-alike, or was reported not detected by mistake.
type TakenBack struct {
	Taken, Quarter survey.Quarter // quarter of the correction, and quarter in which the change was counted
	StandID        string
	Scope          field.RowScope
	Name, UnitID   string
	Shared         bool            // the stand's share of the counted change is unknown
	Acres          [acreages]int64 // by measure, in units of 10^-Decimals
}

// IsUnits says whether the section is a reporting unit, or the ground outside all units.
func (s *Section) IsUnits() bool {
	return slices.Contains(field.ByUnit, s.Scope)
}

// offColumns are the columns with the errors of live and infested acres.
var offColumns = [...]string{field.LiveOffByLook, field.InfestedOffByLook}
