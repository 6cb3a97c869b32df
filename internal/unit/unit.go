// Package unit says what a reporting unit is and checks a set of them:
// counties, basins, parcels, whatever acreage is reported by.
package unit

import "github.com/paulmach/orb"

// Unit is one reporting unit, read and checked.
type Unit struct {
	ID   string // unit_id, unique in a batch
	Name string // unit_name; blank for not given
	File string // as the user named it
	Row  int    // the unit's place there, counted from 1

	Areas orb.MultiPolygon // WGS 84 degrees, rings closed; longitudes run on past 180 rather than jump
}
