// Package demo invents a country, its rivers and eight quarters of a control programme, as the input
// files that a user would have. Nothing in it is real.
package demo

import (
	"fmt"
	"math/rand/v2"
)

// QuarterFiles are the files that crews hand in for one quarter.
type QuarterFiles struct {
	Quarter    string   // "2025Q4"
	Points     []byte   // survey points, CSV
	Surveyed   []byte   // ground surveyed in the quarter, GeoJSON
	Treatments []byte   // treatments in the quarter, CSV
	Works      []byte   // works planned by others at the end of the quarter, GeoJSON
	Colonies   []string // colony of each row of the points; not in any file
}

// Scenario is everything that the invented programme delivers, as file contents.
type Scenario struct {
	Quarters []QuarterFiles // oldest first
	Streams  []byte         // centerlines digitised downstream, GeoJSON
	Barriers []byte         // barriers that are on no centerline, GeoJSON
	Water    []byte         // the lake, GeoJSON
	Units    []byte         // districts, GeoJSON
	Second   []byte         // what two crews found independently of each other, CSV
	Readme   []byte         // description of the files, Markdown
	Truths   []Truth        // what really happened to the colonies; not in any file
}

// Make returns the scenario for a seed. Positions are WGS 84 degrees. The same seed gives the same
// bytes on the same processor family. It takes about 100 ms.
func Make(seed uint64) Scenario {
	land := settle(seed)
	colonies := colonise(dice(seed, 2), land)
	made := make([]QuarterFiles, len(calendar))
	for q := range calendar {
		points, of := writePoints(dice(seed, 10+uint64(q)), land, colonies, q)
		made[q] = QuarterFiles{
			Quarter:    calendar[q].name,
			Points:     points,
			Surveyed:   writeSurveyed(land, colonies, q),
			Treatments: writeTreatments(land, colonies, q),
			Works:      writeWorks(land, colonies, q),
			Colonies:   of,
		}
	}
	return Scenario{
		Quarters: made,
		Streams:  writeStreams(land),
		Barriers: writeBarriers(land),
		Water:    writeWater(land),
		Units:    writeUnits(land),
		Second:   writeSecondLooks(dice(seed, 30), land, colonies),
		Readme:   readme(seed),
		Truths:   truths(colonies),
	}
}

// settle grows the rivers for a seed, and then the coast around them.
func settle(seed uint64) country {
	r := dice(seed, 1)
	courses := growRivers(r)
	lines := cutLines(r, courses)
	return country{courses: courses, lines: lines, coast: growCoast(r, courses), lake: growLake(seed, courses)}
}

// colonise places every colony of the country and sets what happens to it. The colonies with the most
// detailed stories are placed first and so have the most choice of places.
func colonise(r *rand.Rand, land country) []colony {
	s := &settlement{r: r, land: land}
	s.growTogether()
	s.fallApart()
	for _, sh := range shores {
		s.settleShore(sh)
	}
	s.arrive()
	s.dryLand()
	for i := range s.all {
		s.all[i].name = fmt.Sprintf("%s %02d", s.all[i].walk, i+1)
	}
	return s.all
}
