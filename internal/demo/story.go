package demo

// state is what a crew finds at a patch in one quarter.
type state byte

const (
	unseen   state = '.' // not yet there, or nobody knows of it: no record
	live     state = 'L' // untreated
	treated  state = 'T' // treated this quarter
	dead     state = 'D' // standing dead
	sprouted state = 'S' // resprout
	gone     state = 'X' // looked for and not found
)

// history is the state of a plant at a place, quarter by quarter.
type history [quarters]state

// story is the history of a colony: that of most of its patches, and that of the
// third that comes up again after treatment.
type story struct {
	most, third history
	hand        bool // what is gone was pulled by hand the quarter before
}

// told returns the story in which every patch fares alike.
func told(h string) story { return story{most: past(h), third: past(h)} }

// past returns a history as it is written below, a letter a quarter.
func past(h string) (out history) {
	for i := range out {
		out[i] = state(h[i])
	}
	return out
}

// The stories. The programme starts in earnest in the third quarter: what is
// treated stands dead for one to three, a third comes up again and is treated
// again, and in the end nothing is found.
var (
	leftAlone    = told("LLLLLLLL")
	gardenPlants = story{most: past("TDDXXXXX"), third: past("TDSTDXXX")}
	firstWork    = story{most: past("LLTDDXXX"), third: past("LLTDSTDX")}
	secondWork   = story{most: past("LLLTDDXX"), third: past("LLLTDSTD")}
	thirdWork    = story{most: past("LLLLTDXX"), third: past("LLLLTDST")}
	fourthWork   = story{most: past("LLLLLTDX"), third: past("LLLLLTDS")}
	fifthWork    = told("LLLLLLTD")
	lastWork     = told("LLLLLLLT")
	// cutOff resprouts behind the flood, and waits for it to fall.
	cutOff = story{most: past("LLLTDDDX"), third: past("LLLTSSST")}
	// onLeave resprouts just before its crew goes on leave.
	onLeave     = story{most: past("LLLLTDDD"), third: past("LLLLTDSS")}
	pulledFirst = pulledBy("LXXXXXXX")
	pulled      = pulledBy("LLLXXXXX")
	pulledLate  = pulledBy("LLLLLLXX")
	pulledAgain = pulledBy("LLXXXSXX")
	washedAway  = told("LLLLLXXX")
	sprayedOnce = told("LLLTDXXX")
	foundSummer = told(".LLLLLLL")
)

func pulledBy(h string) story { return story{most: past(h), third: past(h), hand: true} }

// arrivedIn returns the story of a colony first met with in a quarter.
func arrivedIn(quarter int) story {
	s := leftAlone
	for q := range quarter {
		s.most[q], s.third[q] = unseen, unseen
	}
	return s
}

// workdown is, by walk, what becomes of its colonies, source side first; the
// last serves all further ones. The programme works down the Orvenna and its
// creeks from the top. Walks that are not named are left alone.
var workdown = map[string][]story{
	"GAR": {firstWork},
	"LUP": {firstWork},
	"ORV": {
		firstWork, firstWork, firstWork, firstWork, secondWork, secondWork, secondWork, secondWork,
		thirdWork, thirdWork, thirdWork, fourthWork, fourthWork, fifthWork,
	},
	"TAM":         {thirdWork},
	"NAV":         {secondWork},
	"RUD":         {onLeave},
	"VES":         {cutOff, leftAlone},
	"KES":         {fourthWork, fifthWork},
	lowerIskarrow: {fourthWork, fifthWork, fifthWork, lastWork, leftAlone},
}

func storyOf(walk string, turn int) story {
	list := workdown[walk]
	if len(list) == 0 {
		return leftAlone
	}
	return list[min(turn, len(list)-1)]
}

// storyOfOne draws the story of a single find, one without work in a quarter in
// which nobody went the walk.
func (s *settlement) storyOfOne(walk string) story {
	some := []story{leftAlone, leftAlone, pulledFirst, pulled, pulledLate, pulledAgain, washedAway, sprayedOnce, foundSummer}
	for {
		one := some[s.r.IntN(len(some))]
		if one.canBe(walk) {
			return one
		}
	}
}

// canBe says whether a story has no work in a quarter in which nobody went the
// walk.
func (one story) canBe(walk string) bool {
	for q := range quarters {
		if !visited(walk, q) && (one.works(one.most, q) || one.works(one.third, q)) {
			return false
		}
	}
	return true
}

// works says whether somebody worked at a patch of such a history in a quarter.
func (one story) works(h history, quarter int) bool {
	return h[quarter] == treated || one.pulls(h, quarter)
}

// pulls says whether a patch is pulled at the end of a quarter: it is not there
// in the next.
func (one story) pulls(h history, quarter int) bool {
	return one.hand && quarter+1 < quarters && h[quarter] != gone && h[quarter+1] == gone
}
