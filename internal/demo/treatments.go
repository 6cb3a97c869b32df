package demo

import (
	"bytes"
	"encoding/csv"

	"driftreach/geo"
)

// writeTreatments returns what was treated in a quarter, a row a colony. The place
// is that of the clump in the middle of the work: stands have no ids before a
// batch ran.
func writeTreatments(land country, colonies []colony, quarter int) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.Write([]string{"date", "stand_id", "decimalLongitude", "decimalLatitude", "method",
		"formulation_class", "treated_acres"})
	for _, c := range colonies {
		if row := treatment(land, c, quarter); row != nil {
			_ = w.Write(row)
		}
	}
	w.Flush()
	return b.Bytes()
}

// treatment returns the row of a colony treated or pulled in a quarter.
func treatment(land country, c colony, quarter int) []string {
	var worked []patch
	area := 0.0
	for _, p := range c.patches {
		if c.story.works(p.past, quarter) {
			worked = append(worked, p)
			area += p.areaIn(quarter)
		}
	}
	if len(worked) == 0 {
		return nil
	}
	turn := courseIndex(land.courses, c.code) + 1
	date := surveyDay(turn, len(land.courses)+1, quarter)
	method, class := "foliar spray", "aquatic-labelled"
	switch {
	case c.story.hand:
		method, class = "hand pull", "none"
		date = date.AddDate(0, 0, 12)
	case c.code == "":
		class = "general"
	}
	at := degrees(middlePatch(worked))
	return []string{date.Format("2006-01-02"), "", decimal(at[0], 7), decimal(at[1], 7), method, class,
		decimal(float64(geo.SquareMeters(area).Acres()), 4)}
}
