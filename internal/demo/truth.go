package demo

// Sight is what the crews of a quarter found at a colony.
type Sight int

const (
	Unknown  Sight = iota // not yet there, or not found yet
	Found                 // records of plants
	Searched              // only records of searches that found nothing
	Missed                // found before; not surveyed this quarter
)

// Truth is what really happened to a colony. A test compares the identities of stands with it. It is in
// no file.
type Truth struct {
	Colony string
	Sights []Sight // by quarter
	Joins  string  // colony it grows together with; blank for none
	Joined int     // quarter from which the two are one stand
	Parted int     // quarter from which it is two stands; 0 for never
}

// truths returns the truth for every colony.
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

// sight returns what was found in a quarter. It is Missed even if the colony was never found.
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
