// Package allocate splits the acreages of stands and the length of reaches by
// reporting unit, in whole numbers that add up: the shares of a stand to its own
// acreages, those of a reach to its length as printed. It also rounds parts so that
// they add up to a rounded whole.
package allocate

// Outside stands for the unit of what lies in none.
const Outside int32 = -1

// Share is what of one stand lies in one unit. Acres are in grains.
// Canopy and zone are at most infested, infested at most gross, wherever that
// holds of the whole stand.
type Share struct {
	Unit                          int32 // index into the units, or Outside
	Infested, Gross, Canopy, Zone int64
}

// Length is what of one reach lies in one unit, kilometres in units of 1e-4.
type Length struct {
	Unit int32 // index into the units, or Outside
	Km   int64
}

// MainShare returns the unit that most of a stand lies in, by infested, then gross
// acres; of equal ones the first in the order of shares. Outside for no shares.
func MainShare(shares []Share) int32 {
	best := Share{Unit: Outside, Infested: -1}
	for _, s := range shares {
		if s.Infested > best.Infested || s.Infested == best.Infested && s.Gross > best.Gross {
			best = s
		}
	}
	return best.Unit
}

// MainLength returns the unit that most of a reach lies in; of equal ones the
// first in the order of lengths. Outside for none.
func MainLength(lengths []Length) int32 {
	best := Length{Unit: Outside, Km: -1}
	for _, l := range lengths {
		if l.Km > best.Km {
			best = l
		}
	}
	return best.Unit
}
