package flow

import "github.com/paulmach/orb"

// Kinds of trouble.
const (
	GapClosed         = "gap-closed"         // ends that nearly meet were joined
	GapOpen           = "gap-open"           // loose ends that point at each other were left apart
	Crossing          = "crossing"           // lines cross without a node: not joined
	AllAgainst        = "all-against"        // a whole part looks digitised against the flow
	TJunction         = "t-junction"         // an end on the middle of a line split it
	ZeroLength        = "zero-length"        // no length: left out of the network
	Unusable          = "unusable-position"  // a vertex is not a valid position: left out of the network
	SelfCrossing      = "self-crossing"      // the line crosses itself: kept as digitised
	EndsApart         = "ends-apart"         // ends named as one node are apart: the name was followed
	NamesIncomplete   = "names-incomplete"   // lines without node names touch lines with them: positions decide
	ReversedDirection = "opposed-direction"  // a line ran against its neighbours
	CycleCut          = "cycle-cut"          // flow went in a ring: nothing flows into this line any more
	Dangle            = "dangle"             // an end stops short of another line
	ManyMeet          = "many-meet"          // more lines end at one place than streams meet
	Island            = "island"             // a small part not connected to the rest
	TwoOutlets        = "two-outlets"        // a connected part with more than one outlet
	LooseBranch       = "loose-branch"       // a line leaves another and ends where nothing goes on: it may run against the flow
	SharesNormalised  = "shares-normalised"  // shares at a divergence did not add up to 1
	SharesIncomplete  = "shares-incomplete"  // some branches at a divergence had no share
	TwoMains          = "two-mains"          // more than one branch is marked as the main path
	AreaMissing       = "area-missing"       // lines without a catchment count 0 in the totals
	BraidTooLarge     = "braid-too-large"    // totals inside one braid are lower bounds
	RepeatedName      = "repeated-name"      // lines share one name
	UnknownDivergence = "unknown-divergence" // a divergence that is not 0, 1 or 2 was read as 0
)

// Trouble is something wrong or doubtful in the lines, and what was done about it. Lines are
// indices into the lines given to Build, ascending by name; of a Dangle the line that ends comes
// first, then the one that it stops short of.
type Trouble struct {
	Kind    string
	Lines   []int32
	At      orb.Point // degrees
	Message string    // what was found
	Repair  string    // what was done, and its effect
}

// report records a trouble. Lines are given as ranks and stored as the caller's indices.
func (b *builder) report(t Trouble) {
	for i, r := range t.Lines {
		t.Lines[i] = b.record[r]
	}
	b.troubles = append(b.troubles, t)
}

// name returns the name of the line at a rank.
func (b *builder) name(rank int32) string { return b.line(rank).Name }
