// Package allocate divides the acreages of stands and the lengths of reaches among reporting units,
// in whole numbers: the shares of a stand add up to its acreages, those of a reach to its length as
// printed. It also rounds parts so that they add up to a rounded whole.
package allocate

// Outside is the unit index for ground outside all units.
const Outside int32 = -1

// Share is the part of one stand in one unit. Acres are in grains. Canopy and zone are at most
// infested, and infested at most gross, wherever that is true of the whole stand.
type Share struct {
	Unit                          int32 // index into the units, or Outside
	Infested, Gross, Canopy, Zone int64
}

// Length is the part of one reach in one unit, kilometres in units of 1e-4.
type Length struct {
	Unit int32 // index into the units, or Outside
	Km   int64
}

// MainShare returns the unit with the largest part of a stand, by infested and then gross acres; a
// tie goes to the first share. Outside for no shares.
func MainShare(shares []Share) int32 {
	best := Share{Unit: Outside, Infested: -1}
	for _, s := range shares {
		if s.Infested > best.Infested || s.Infested == best.Infested && s.Gross > best.Gross {
			best = s
		}
	}
	return best.Unit
}

// MainLength returns the unit with the largest part of a reach; a tie goes to the first length.
// Outside for none.
func MainLength(lengths []Length) int32 {
	best := Length{Unit: Outside, Km: -1}
	for _, l := range lengths {
		if l.Km > best.Km {
			best = l
		}
	}
	return best.Unit
}
