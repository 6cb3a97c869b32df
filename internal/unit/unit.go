// Package unit defines a reporting unit (a county, basin or parcel for which acreage is reported)
// and checks a set of them.
package unit

import "github.com/paulmach/orb"

// Unit is one reporting unit, read and checked.
type Unit struct {
	ID   string   // unit_id, unique in a batch
	Name string   // unit_name; blank if not given
	File string   // as the user named it
	Row  int      // the unit's place in the file, counted from 1
	More []string // files of its other features, if it was made from several

	Areas orb.MultiPolygon // WGS 84 degrees, rings closed; longitudes continue past 180 without a jump
}

// Features returns the number of features in a file from which the unit was made.
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
