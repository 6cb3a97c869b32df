package demo

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// job is one planned work of somebody else near the water or a road.
type job struct {
	kind       string
	start, end string
	contact    string
	colony     int     // the how-manieth live colony it is near
	off        float64 // metres from it
	long       float64 // metres; as a line along the bank, a place where 0
}

// jobs are planned for the quarter after the last: three close enough to warn
// of, two too far away. Contacts are offices, with no way to reach them.
var jobs = []job{
	{"mowing", "2026-10-05", "2026-10-09", roadsOffice, 2, 25, 400},
	{"earthwork", "2026-11-02", "2026-12-18", shoreOffice, 11, 60, 150},
	{"channel work", "2026-10-19", "2026-11-06", drainageOffice, 17, 5, 600},
	{"mowing", "2026-10-12", "2026-10-16", downsOffice, 20, 900, 300},
	{"earthwork", "2026-12-01", "2026-12-11", drainageOffice, 23, 1500, 0},
}

// writeWorks returns the planned works.
func writeWorks(land country, colonies []colony) []byte {
	var near []colony
	for _, c := range colonies {
		if c.code != "" && c.story == leftAlone {
			near = append(near, c)
		}
	}
	var out []mapFeature
	for i, j := range jobs {
		c := near[j.colony%len(near)]
		out = append(out, feature(workSite(land, c, j), attributes{
			"work_id": fmt.Sprintf("W-%02d", i+1), "kind": j.kind,
			"start_date": j.start, "end_date": j.end, "contact": j.contact,
		}))
	}
	return collection(out)
}

// workSite returns a line beside the course, or a square of 40 m.
func workSite(land country, c colony, j job) orb.Geometry {
	on := land.courses[courseIndex(land.courses, c.code)]
	if j.long == 0 {
		at := ahead(c.patches[0].at, 1, j.off)
		var ring orb.Ring
		for _, turn := range []float64{-0.75, -0.25, 0.25, 0.75, -0.75} {
			ring = append(ring, degrees(ahead(at, turn*math.Pi, 28)))
		}
		return orb.Polygon{ring}
	}
	var path orb.LineString
	for d := c.down; d < min(c.down+j.long, on.length()); d += 40 {
		at, heading := on.at(d)
		path = append(path, degrees(ahead(at, heading+math.Pi/2, j.off)))
	}
	return path
}

// writeTreatments returns what was treated, a row a colony and quarter. The
// place is the middle of the colony: stands have no ids before a batch ran.
func writeTreatments(land country, colonies []colony) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.Write([]string{"date", "stand_id", "decimalLongitude", "decimalLatitude", "method",
		"formulation_class", "treated_acres"})
	for q := range calendar {
		for _, c := range colonies {
			if row := treatment(land, c, q); row != nil {
				_ = w.Write(row)
			}
		}
	}
	w.Flush()
	return b.Bytes()
}

// treatment returns the row of a colony treated or pulled in a quarter.
func treatment(land country, c colony, quarter int) []string {
	hand := quarter < 3 && c.story[quarter] != gone && c.story[quarter+1] == gone && c.story != washedAway
	area, sum := 0.0, orb.Point{}
	for k, p := range c.patches {
		sum = add(sum, p.at)
		if c.patchState(k, quarter) == treated || hand {
			area += p.area
		}
	}
	if area == 0 || c.code != "" && !visited(c.code, quarter) {
		return nil
	}
	n := float64(len(c.patches))
	at := degrees(orb.Point{sum[0] / n, sum[1] / n})
	method, class := "foliar spray", "aquatic-labelled"
	switch {
	case hand:
		method, class = "hand pull", "none"
	case c.code == "":
		class = "general"
	}
	turn := courseIndex(land.courses, c.code) + 1
	date := surveyDay(turn, len(land.courses)+1, quarter)
	if hand {
		date = date.AddDate(0, 0, 12)
	}
	return []string{date.Format("2006-01-02"), "", decimal(at[0], 7), decimal(at[1], 7), method, class,
		decimal(float64(geo.SquareMeters(area).Acres()), 4)}
}
