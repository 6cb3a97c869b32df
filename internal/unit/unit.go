// Package unit says what a reporting unit is and checks a set of them:
// counties, basins, parcels, whatever acreage is reported by.
package unit

import "github.com/paulmach/orb"

// Unit is one reporting unit, read and checked.
type Unit struct {
	ID   string   // unit_id, unique in a batch
	Name string   // unit_name; blank for not given
	File string   // as the user named it
	Row  int      // the unit's place there, counted from 1
	More []string // files of the other features it was made from, when it is in several

	Areas orb.MultiPolygon // WGS 84 degrees, rings closed; longitudes run on past 180 rather than jump
}

// Features returns how many features of a file the unit was made from.
func (u *Unit) Features(file string) int {
	n := 0
	if u.File == file {
		n++
	}
	for _, other := range u.More {
		if other == file {
			n++
		}
	}
	return n
}
