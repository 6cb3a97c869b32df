package result

import (
	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/margin"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/trend"
)

// Event is one event of the previous batch's calendar, as written.
type Event struct {
	UID      string
	Sequence int
	Lines    []string // its folded lines, from BEGIN:VEVENT to END:VEVENT
}

// Visit is the follow-up of one known stand, on the map or not.
type Visit struct {
	*followup.Row
	Stand int32 // index into Run.Stands; -1 for a stand that is not on the map
}

// History holds the summaries of the chain's earlier batches, as printed: by quarter, each with its
// total first.
type History struct {
	Columns []string
	Rows    [][]string    // cells as in the file, which the next history.csv repeats
	Batches []trend.Batch // the same as figures
}

// EverRow is one stage of everything that was ever mapped, at the end of a quarter.
type EverRow struct {
	Quarter string
	Stage   string
	Stands  int
	Acres   Value
}

// StandParts is what a stand's infested acres consist of, in grains. Own + Carried is the total.
type StandParts struct {
	Own         int64 // on records of this quarter
	Carried     int64 // on parts that nobody surveyed this quarter
	FirstLooked int64 // part of Own on ground never surveyed before in the chain
	FoundAgain  int64 // part of Own that replaces acres once reported as not detected
}

// Parts is how infested acres changed from the previous batch to this one, in grains: Previous +
// Restated + Observed + New + FoundAgain + FirstLooked - NotDetected is exactly the present total.
// Carried acres are in Previous and in the present total; they are no change.
type Parts struct {
	Previous    int64 // of the previous batch, as printed
	Restated    int64 // those acres under the present settings, units and streams, less Previous
	Observed    int64 // growth less shrinkage of stands known then and found now
	New         int64 // of stands on ground that was surveyed before without a find
	FoundAgain  int64 // of stands with acres once reported as not detected, at most those
	FirstLooked int64 // on ground never surveyed before in the chain
	NotDetected int64 // last known acres on surveyed ground where nothing of the stand was found
	Cleared     int64 // the part of these that was treated or standing dead before
	Carried     int64 // last known acres on ground that nobody surveyed
}

// acreages are the acreages with a trend: gross, infested, canopy, in the zone, of treated stands and
// of standing dead ones.
type acreages [6]int64

// LookChange is what a stand added, in a quarter, to the changes since the last survey in a row of the
// summary. The chain keeps these. If the stand turns out to be a look-alike, they are taken back from
// the quarters in which they counted.
type LookChange struct {
	StandID      string // the stand's present id
	Quarter      survey.Quarter
	Scope        Scope
	Name, UnitID string
	Shared       bool           // the share of this stand alone is not known: it was once one with other stands, or a part was removed from it
	TakenBack    survey.Quarter // quarter of the correction that took it back; zero while it counts
	acres        acreages
}

// Previous is the previous batch, and what became of its stands.
type Previous struct {
	Quarter survey.Quarter
	Known   []lineage.Known  // its stands and those not detected since, by id, under the present rules and on the present streams
	Then    []Then           // by known stand: what the previous batch printed
	Looks   []lineage.Look   // by known stand: how much of it was surveyed this quarter
	Links   []lineage.Link   // sorted by known id, then stand id; Stand is an index into the run's Stands
	Fates   []lineage.Change // by known stand: not detected, not resurveyed, partly not detected; blank if it has a link
	Home    []int32          // by known stand: index of the stand in whose rows it counts; -1 if it is gone

	ReachApart []string // files and settings in which the reach of the two batches differs

	// Infested acres, in grains; 0 for a stand that was not detected then.
	Restated []int64            // by known stand, under the present rules
	Margins  []margin.Form      // by known stand: error of those acres
	Shares   [][]allocate.Share // by known stand: those acres by unit, if there are units
	Was      [][]allocate.Share // by known stand that a correction changed: its printed acres by unit
	Printed  []UnitAcres        // acres that the previous batch printed by unit, if its units were different
}

// Then is what the previous batch printed for a stand, under its own rules and on its own streams.
type Then struct {
	Infested  int64 // grains; 0 if it was not detected then
	StreamID  string
	WaterBody string
}

// UnitAcres is the infested acres in one reporting unit of the previous batch.
type UnitAcres struct {
	Scope    Scope
	ID, Name string
	Infested int64
}

// Absent is a stand that was once mapped and not detected since. It may be released from follow-up.
type Absent struct {
	lineage.Known
	Looked bool // its place was surveyed this quarter and it was not found
}

// Treatment is one piece of control work, and the ground on which it counts.
type Treatment struct {
	treatment.Treatment
	Key       string         // made from its contents, so that it counts only once in a chain
	CountedIn survey.Quarter // batch in whose acres it counts; zero for none
	Carried   bool           // from the previous batch, which listed it
	Told      Place          // if it is carried: where it was done, as listed in that batch
	On        []Ground       // if it is not carried: stands it was done on; none if it was on no known stand
	Unit      int32          // reporting unit of its position, if it was on no mapped stand; UnknownUnit for none
}

// Place is where a piece of work counts, as text.
type Place struct {
	Stands  []string // ids
	Waters  []string // streams
	UnitIDs []string
}

// Ground is a stand on which work was done: on the map, or known before.
type Ground struct {
	Stand int32 // index into Run.Stands; -1 for a stand that is not on the map
	Known int32 // index into Previous.Known; -1 for a stand that is on the map
}

// UnknownUnit is the reporting unit of work without a position.
const UnknownUnit int32 = -2

// WaterWork is what applications for work at the water, and yearly reports of it, need in addition to
// the stands and the control work.
type WaterWork struct {
	Distances []geo.Meters // from a bank, as set, ascending
	AtWater   geo.Meters   // how far from a bank an area still counts as at the water: the setback, or the largest of Distances
	Areas     []WaterArea  // stands to treat, in the order of the result
	Pieces    []BankPiece  // the banks beside these, each metre once
	Fresh     []float64    // by treatment: share of its drawn area that no earlier drawn work of the year treated; NaN if not known
}

// WaterArea is the part of a stand that needs treatment.
type WaterArea struct {
	Stand  int32
	Zone   geo.SquareMeters   // in the aquatic zone
	Within []geo.SquareMeters // within each distance of a bank, including areas on the water
	Months []string           // in which it is planned, or may be treated; empty if not known
}

// BankPiece is a piece of channel or shore beside areas to treat, in units of 1e-4 km.
type BankPiece struct {
	Line    int32 // centerline; -1 for none
	Unit    int32 // reporting unit, or allocate.Outside
	Channel int64 // of the channel
	Both    int64 // of the channel, with areas along both banks
	Shore   int64 // of the shore of a lake
}
