// Package plan chooses what is treated in the coming quarters with what each of them
// has: money, hours or acres. The rules:
//
//   - A stand is treated for the first time only when every stand whose fragments reach
//     it, and that can be treated, was treated before or is treated in the same quarter.
//     Stands that reach each other are treated together. What cannot be treated now, for
//     want of a permission, in a closed season or until somebody has looked at it again,
//     blocks nothing below it; it is listed with what it keeps seeding.
//   - Follow-up is exempt from that rule. What is due by the end of a quarter is paid for
//     before first treatments, first due first, unless the setting says otherwise; what a
//     quarter has nothing left for is due in the next.
//   - What is left goes to the set of stands that takes most exposure away, weighed
//     together, and not to the first lines of a list: the quarter's best set, with a bound
//     on what any other set could take away (geo/knapsack). Quarters are planned one after
//     the other, each best for itself.
//   - A stand enters only if the coming budgets cover its follow-up too: in each year
//     after the first its labour is a share of the first year's, in the same quarter of
//     the year, from the same budget.
//   - The set-up of a site is paid once a quarter, by the stand there that comes first.
//   - A large stand is planned in blocks of its own records from the top down, each after
//     the one above it. What it reaches waits for the last.
package plan

import (
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/survey"
)

// Kind says what a row of the plan is.
type Kind uint8

// The kinds, in the words of the work column.
const (
	First    Kind = iota // first treatment of a stand, or of a block of one
	FollowUp             // look again at what was treated, and treat what grows again
)

// String returns the word of the work column.
func (k Kind) String() string { return [...]string{"first_treatment", "follow_up"}[k] }

// Row is one piece of work planned.
type Row struct {
	Stand         int32          // index of the stand
	Kind          Kind           //
	Quarter       survey.Quarter // it is planned for
	Place         int            // in that quarter, 1 first: follow-up by the day it is due, then first treatments upstream first
	Block, Blocks int            // 1 of 1 for the whole of a stand
	At            orb.Point      // place to go to, degrees
	From, To      time.Time      // first and last day of the quarter on which it may be treated
	Site          int32          // number of its site, 1 first; stands of one share their set-up
	Acres         float64        // to treat; of follow-up those treated before
	Cost          float64        // in the unit of the budget, with the set-up of the site where this row pays it
	Running       float64        // sum of costs of the quarter down to this row
	Exposure      float64        // taken away over the planned quarters; of follow-up by what is known to grow again
	Due           time.Time      // of follow-up: the day it is due; zero for what follows from this plan
	Year          int            // of follow-up: years after the first treatment, 1 first
	Draws         int            // of first treatments of the first quarter: in how many draws it is chosen; -1 for not told
	Why           string         // one sentence
}

// Plan is what is to be done in the coming quarters.
type Plan struct {
	Unit     string    // of the budget and all costs
	Budget   float64   // of each quarter
	Rows     []Row     // by quarter and place
	Quarters []Quarter // what each comes to, in their order
	Held     []Held    // what cannot be treated in the first quarter, by stand
	Curve    []Point   // exposure against money of the first quarter, by money
	Next     *Next     // what would come in with a little more; nil for nothing
	Draws    int       // of the drift, each of which was planned for; 0 for none
	RowOf    []int32   // by stand: the first of its rows; -1 for none
	TooMany  int       // pieces of work of the first quarter, where draws and curve were left out for their number; else 0
}

// Quarter sums up one quarter of a plan.
type Quarter struct {
	Quarter  survey.Quarter
	FollowUp float64 // cost of follow-up planned
	PutOff   int     // follow-ups due that the budget does not cover
	First    float64 // cost of first treatments
	Free     float64 // what first treatments could have cost: what follow-up of this and the coming years leaves
	Exposure float64 // taken away by first treatments, over the planned quarters
	Bound    float64 // no set that keeps the rules takes away more in this quarter
	All      float64 // taken away if all that waits were treated in it
	Exact    bool    // the set is the best there is
}

// Gap returns by how much, as a share of the bound, the set may fall short of the best
// possible; 0 for the best.
func (q *Quarter) Gap() float64 {
	if q.Exact || !(q.Bound > q.Exposure) {
		return 0
	}
	return 1 - q.Exposure/q.Bound
}

// Held is a stand that asks for treatment and cannot be treated in a quarter.
type Held struct {
	Stand  int32
	Why    string
	Until  survey.Quarter // first planned quarter in which it can be; zero for none
	Seeds  []int32        // stands that its fragments reach, ascending
	Leaves float64        // exposure that stays because of it, a quarter
}

// Point is a point of the curve of exposure taken away against money.
type Point struct {
	Money    float64 // for first treatments
	Exposure float64 // of the best set
	Bound    float64 // of any
}

// Next is what would come in with a little more money.
type Next struct {
	Stand    int32   // the last of what comes in
	With     int     // stands and blocks that come in with it, above it
	More     float64 // what is needed beyond the budget's rest
	Exposure float64 // that they take away
}
