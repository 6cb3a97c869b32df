// Package plan chooses the stands to treat in the coming quarters with a budget of money, hours or
// acres for each quarter. The rules:
//
//   - A stand gets its first treatment only after every stand whose fragments reach it,
//     or in the same quarter. Stands that reach each other are treated together. A stand
//     that cannot be treated now (no permission, closed season, or not looked at for too
//     long) does not block the stands below it. It is listed with the stands its
//     fragments reach.
//   - Follow-up is exempt from that rule. Follow-up due by the end of a quarter is paid
//     for before first treatments, first due first, unless the settings say otherwise.
//     What a quarter cannot pay for is due in the next.
//   - The rest of the budget goes to the set of stands that together removes the most
//     exposure, not simply to the first stands of a list. This is the quarter's best set,
//     with an upper bound for every other set (geo/knapsack). Quarters are planned one
//     after the other, each with its own best set.
//   - A stand is planned only if the coming budgets also cover its follow-up. In each year
//     after the first, its labour is a share of the first year's, in the same quarter of
//     the year, paid from that quarter's budget.
//   - The set-up of a site is paid once a quarter, with the first stand planned there.
//   - A large stand is planned in blocks of its records, from the top down, each after the
//     one above it. The stands it reaches come after its last block.
package plan

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/survey"
)

// Kind is the kind of work in a row of the plan.
type Kind uint8

// The kinds, in the words of the work column.
const (
	First    Kind = iota // first treatment of a stand, or of a block of one
	FollowUp             // look again at treated ground, and treat regrowth
)

// String returns the word of the work column.
func (k Kind) String() string { return [...]string{"first_treatment", "follow_up"}[k] }

// Row is one planned piece of work.
type Row struct {
	Stand         int32          // index of the stand
	Kind          Kind           //
	Quarter       survey.Quarter // in which it is planned
	Place         int            // in that quarter, counted from 1: follow-up by due day, then first treatments upstream first
	Block, Blocks int            // 1 of 1 for a whole stand
	At            orb.Point      // place to go to, degrees
	From, To      time.Time      // first and last day in the quarter when it may be treated
	Site          int32          // number of its site, counted from 1; the stands of a site share the set-up
	Acres         geo.Acres      // to treat; for follow-up, the acres treated before
	Cost          Cost           // in the unit of the budget, including the site's set-up where this row pays it
	Running       Cost           // sum of the quarter's costs up to this row
	Exposure      drift.AmountKm // removed over the planned quarters; for follow-up, by treating known regrowth
	Due           time.Time      // for follow-up, the due day; zero if it follows from this plan
	Year          int            // for follow-up, the year after the first treatment, counted from 1
	Draws         int            // for first treatments of the first quarter, the number of draws in which it is chosen; -1 for unknown
	Why           string         // one sentence
}

// Plan is the work planned for the coming quarters.
type Plan struct {
	Unit     string    // of the budget and of all costs
	Budget   Cost      // for each quarter
	Rows     []Row     // sorted by quarter and place
	Quarters []Quarter // sums of each quarter, in order
	Held     []Held    // stands that cannot be treated in the first quarter
	Curve    []Point   // exposure removed against money in the first quarter, by money
	Next     *Next     // what a little more money would add; nil for nothing
	Draws    int       // number of draws of the drift model for which the first quarter was planned again; 0 for none
	RowOf    []int32   // by stand: its first row; -1 for none
	Valued   bool      // exposure counts only past places with weights
	TooMany  int       // pieces of work in the first quarter if they were too many for draws and curve; else 0
}

// Quarter sums up one planned quarter.
type Quarter struct {
	Quarter  survey.Quarter
	FollowUp Cost           // cost of planned follow-up
	PutOff   int            // number of visits due that the budget does not cover
	First    Cost           // cost of first treatments
	Free     Cost           // most that first treatments could have cost, after follow-up of this and the coming years
	Exposure drift.AmountKm // removed by first treatments, over the planned quarters
	Bound    drift.AmountKm // upper bound for any set that keeps the rules in this quarter
	All      drift.AmountKm // removed if every waiting stand were treated in this quarter
	Exact    bool           // no set removes more
}

// Gap returns how far the set may be below the best possible, as a share of the bound; 0 for the
// best.
func (q *Quarter) Gap() geo.Share {
	if q.Exact || !(q.Bound > q.Exposure) {
		return 0
	}
	return geo.Share(1 - q.Exposure/q.Bound)
}

// Held is a stand that needs treatment and cannot be treated in the first quarter.
type Held struct {
	Stand  int32
	Why    string
	Until  survey.Quarter // first planned quarter when it can be treated; zero for none
	Seeds  []int32        // stands that its fragments reach, ascending
	Leaves drift.AmountKm // exposure that remains because of it, per quarter
}

// Point is one point of the curve of exposure removed against money.
type Point struct {
	Money    Cost           // for first treatments
	Exposure drift.AmountKm // removed by the best set found
	Bound    drift.AmountKm // upper bound for any set
}

// Next is what a little more money would add.
type Next struct {
	Stand    int32          // the last stand added
	With     int            // number of stands and blocks upstream of it that are added with it
	More     Cost           // money needed beyond the rest of the budget
	Exposure drift.AmountKm // removed by the addition
}
