package demo

// state is what a crew finds at a patch in one quarter.
type state byte

const (
	unseen   state = '.' // not yet there, or not surveyed: no record
	live     state = 'L' // untreated
	treated  state = 'T' // treated this quarter
	dead     state = 'D' // standing dead
	sprouted state = 'S' // resprout
	gone     state = 'X' // searched for and not found
)

// history is the state of a patch, quarter by quarter.
type history [quarters]state

// story is the history of a colony: one for most of its patches, and one for the third that resprouts
// after treatment.
type story struct {
	most, third history
	hand        bool // patches that disappear were pulled by hand the quarter before
}

// told returns the story in which all patches have the same history.
func told(h string) story { return story{most: past(h), third: past(h)} }

// past returns the history written as one letter a quarter.
func past(h string) (out history) {
	for i := range out {
		out[i] = state(h[i])
	}
	return out
}

// The stories. Control work begins in the third quarter. Treated patches stand dead for one to three
// quarters, a third of them resprout and are treated again, and in the end nothing is found.
var (
	leftAlone    = told("LLLLLLLL")
	gardenPlants = story{most: past("TDDXXXXX"), third: past("TDSTDXXX")}
	firstWork    = story{most: past("LLTDDXXX"), third: past("LLTDSTDX")}
	secondWork   = story{most: past("LLLTDDXX"), third: past("LLLTDSTD")}
	thirdWork    = story{most: past("LLLLTDXX"), third: past("LLLLTDST")}
	fourthWork   = story{most: past("LLLLLTDX"), third: past("LLLLLTDS")}
	fifthWork    = told("LLLLLLTD")
	lastWork     = told("LLLLLLLT")
	// cutOff resprouts while floods block access, and is treated when they fall.
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

// arrivedIn returns the story of a colony first found in the given quarter.
func arrivedIn(quarter int) story {
	s := leftAlone
	for q := range quarter {
		s.most[q], s.third[q] = unseen, unseen
	}
	return s
}

// workdown gives, by walk, the stories of its colonies, from the source down; the last story is used
// for all further colonies. The programme works down the Orvenna and its creeks from the top. Colonies
// on other walks are not treated.
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

// canBe says whether a story has no work in quarters in which the walk was not surveyed.
func (one story) canBe(walk string) bool {
	for q := range quarters {
		if !visited(walk, q) && (one.works(one.most, q) || one.works(one.third, q)) {
			return false
		}
	}
	return true
}

// works says whether there was work on a patch with this history in a quarter.
func (one story) works(h history, quarter int) bool {
	return h[quarter] == treated || one.pulls(h, quarter)
}

// pulls says whether a patch is pulled at the end of a quarter: it is gone in the next.
func (one story) pulls(h history, quarter int) bool {
	return one.hand && quarter+1 < quarters && h[quarter] != gone && h[quarter+1] == gone
}
