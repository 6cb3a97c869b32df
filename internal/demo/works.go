package demo

import (
	"fmt"
	"math"

	"github.com/paulmach/orb"
)

// job is one work planned by others near the water or a road.
type job struct {
	quarter    int // in which crews hear of it; it begins in the next quarter
	kind       string
	begin, end int // days of the next quarter
	contact    string
	colony     int     // number of the live colony it is near
	off        float64 // metres from it
	long       float64 // length of a line along the bank, metres; 0 for a square
}

// jobs are one or two a quarter, and five in the last: three close enough for a notice and two too far
// away. Contacts are offices without address or telephone.
var jobs = []job{
	{0, "mowing", 12, 16, roadsOffice, 4, 30, 300},
	{1, "channel work", 20, 38, drainageOffice, 15, 5, 500},
	{1, "mowing", 5, 8, downsOffice, 9, 800, 250},
	{2, "earthwork", 40, 61, shoreOffice, 8, 50, 0},
	{3, "mowing", 3, 9, roadsOffice, 13, 20, 450},
	{3, "channel work", 30, 44, drainageOffice, 6, 5, 300},
	{4, "earthwork", 15, 52, drainageOffice, 21, 1200, 0},
	{5, "mowing", 8, 12, roadsOffice, 16, 35, 350},
	{6, "channel work", 25, 50, drainageOffice, 10, 5, 400},
	{6, "earthwork", 10, 20, shoreOffice, 19, 70, 120},
	{7, "mowing", 4, 8, roadsOffice, 2, 25, 400},
	{7, "earthwork", 32, 78, shoreOffice, 11, 60, 150},
	{7, "channel work", 18, 36, drainageOffice, 17, 5, 600},
	{7, "mowing", 11, 15, downsOffice, 20, 900, 300},
	{7, "earthwork", 61, 71, drainageOffice, 23, 1500, 0},
}

// writeWorks returns the works planned at the end of a quarter.
func writeWorks(land country, colonies []colony, quarter int) []byte {
	var near []colony
	for _, c := range colonies {
		if c.code != "" && c.story == leftAlone {
			near = append(near, c)
		}
	}
	next := calendar[quarter].first.AddDate(0, 3, 0)
	var out []mapFeature
	for i, j := range jobs {
		if j.quarter != quarter {
			continue
		}
		c := near[j.colony%len(near)]
		out = append(out, feature(workSite(land, c, j), attributes{
			"work_id": fmt.Sprintf("W-%02d", i+1), "kind": j.kind,
			"start_date": next.AddDate(0, 0, j.begin).Format("2006-01-02"),
			"end_date":   next.AddDate(0, 0, j.end).Format("2006-01-02"), "contact": j.contact,
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
