package demo

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"time"

	"driftreach/geo"
)

// writeTreatments returns the treatments of a quarter, one row for each colony. The position is that of
// the clump in the middle of the work, since stands have no ids before the first batch.
func writeTreatments(land country, colonies []colony, quarter int) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.Write([]string{"date", "stand_id", "decimalLongitude", "decimalLatitude", "method",
		"formulation_class", "treated_acres", "product", "registration_number", "amount", "amount_unit",
		"applicator", "licence", "start_time", "end_time", "wind_mps", "temperature_c", "hours"})
	for _, c := range colonies {
		if row := treatment(land, c, quarter); row != nil {
			_ = w.Write(row)
		}
	}
	w.Flush()
	return b.Bytes()
}

// treatment returns the row for a colony treated or pulled in a quarter.
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
	acres := float64(geo.SquareMeters(area).Acres())
	row := []string{date.Format("2006-01-02"), "", decimal(at[0], 7), decimal(at[1], 7), method, class, decimal(acres, 4)}
	return append(row, application(class, turn, quarter, date, acres)...)
}

// product is a herbicide of the invented country. It does not exist.
type product struct {
	name, registration, unit string
	perAcre                  float64
}

// products are the invented products, by class of formulation. Names and numbers are in no register,
// and the amounts an acre are not those of any real product.
var products = map[string]product{
	"aquatic-labelled": {"Invented Wash W", "MERIDWANE-INVENTED-1", "L", 1.5},
	"general":          {"Invented Wash G", "MERIDWANE-INVENTED-2", "kg", 0.75},
}

// application returns what a crew records about a job: what was used and how much, by whom, when and in
// what weather. It uses no random numbers, so that the rest of the country does not change.
func application(class string, turn, quarter int, date time.Time, acres float64) []string {
	crew := string(rune('A' + (turn+quarter)%4))
	half := 2 + min(12, int(8*acres)) // hours, in halves
	start := date.Add(7*time.Hour + time.Duration(30*(turn%3))*time.Minute)
	end := start.Add(time.Duration(half) * 30 * time.Minute)
	used := []string{"", "", "", ""}
	if p, there := products[class]; there {
		used = []string{p.name, p.registration, decimal(p.perAcre*acres, 2), p.unit}
	}
	return append(used, "Crew "+crew, "MERIDWANE-CREW-"+crew, start.Format("15:04"), end.Format("15:04"),
		decimal(0.8+0.4*float64(date.Day()%6), 1), strconv.Itoa(14+date.YearDay()%9), decimal(float64(half)/2, 1))
}
