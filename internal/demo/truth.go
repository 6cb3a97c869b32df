package demo

// Sight is what a quarter's crews met with where a colony is.
type Sight int

const (
	Unknown  Sight = iota // not there yet, or nobody has met with it
	Found                 // records of plants
	Searched              // only records of places searched in vain
	Missed                // met with before; nobody went there
)

// Truth is what a colony truly did: what a test holds the identities of stands
// against. No file tells it.
type Truth struct {
	Colony string
	Sights []Sight // by quarter
	Joins  string  // colony it grows together with; blank for none
	Joined int     // quarter from which the two stand as one
	Parted int     // quarter from which it stands in two; 0 for never
}

// truths returns what every colony did.
func truths(colonies []colony) []Truth {
	var out []Truth
	for _, c := range colonies {
		t := Truth{Colony: c.name, Joined: c.joined, Parted: c.parted}
		if c.joined > 0 {
			t.Joins = colonies[c.joins].name
		}
		known := false
		for q := range calendar {
			s := c.sight(q)
			known = known || s == Found
			if s == Missed && !known {
				s = Unknown
			}
			t.Sights = append(t.Sights, s)
		}
		out = append(out, t)
	}
	return out
}

// sight returns what was met with in a quarter, Missed also where nothing was.
func (c colony) sight(quarter int) Sight {
	if !visited(c.walk, quarter) {
		return Missed
	}
	best := Unknown
	for k := range c.patches {
		switch c.stateOf(k, quarter) {
		case unseen:
		case gone:
			if best == Unknown {
				best = Searched
			}
		default:
			best = Found
		}
	}
	return best
}
