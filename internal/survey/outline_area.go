package survey

import (
	"fmt"
	"math"

	"driftreach/internal/check"
)

// drawn counts the records of a file with a patch drawn as an area and a recorded patch area, and those
// among them whose two areas are far apart.
type drawn struct {
	records            int
	apart              firstOf
	recorded, enclosed float64 // of the first such one
}

// farApart is how many times one area must be the other to be told. Our choice: twice, more than a hasty
// outline or a rounded estimate is off.
const farApart = 2

// compareAreas counts a record whose patch is drawn. enclosed is the area of the outline in square
// metres, which is the one that counts.
func (c *checker) compareAreas(r *Record, enclosed float64) {
	recorded := float64(r.PatchArea)
	if !(recorded > 0) {
		return
	}
	d := c.drawn[r.File]
	d.records++
	if math.Max(recorded/enclosed, enclosed/recorded) > farApart {
		if d.apart.meet(r) {
			d.recorded, d.enclosed = recorded, enclosed
		}
	}
	c.drawn[r.File] = d
}

// tellDrawn reports, once a file, that recorded areas are far from those of the outlines.
func (c *checker) tellDrawn() {
	for file, d := range c.drawn { // the log sorts them
		if d.apart.met == 0 {
			continue
		}
		are := "are"
		if d.apart.met == 1 {
			are = "is"
		}
		c.Add(check.Finding{
			Rule: ruleDrawn, File: file, Record: d.apart.name, Field: "patch_area_m2", Value: check.Number(d.recorded),
			Message: fmt.Sprintf("%d of the %d patch areas beside an outline %s more than %d times as large or as small as it; the first outline has %s m2. The outlines count", d.apart.met, d.records, are, farApart, check.Number(math.Round(d.enclosed*10)/10)),
		})
	}
}
