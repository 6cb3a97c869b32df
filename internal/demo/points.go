package demo

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"

	"github.com/paulmach/orb"
)

// pointColumns are the Darwin Core terms and our own, then two columns that the program does not know
// and carries through.
var pointColumns = []string{
	"occurrenceID", "eventDate", "decimalLongitude", "decimalLatitude",
	"coordinateUncertaintyInMeters", "occurrenceStatus", "management_status",
	"patch_area_m2", "patch_length_m", "patch_width_m", "patch_diameter_m",
	"canopy_cover_percent", "canopy_cover_class", "stem_height_m", "recordedBy", "parcel",
	"occurrenceRemarks", "bank_slope", "photo",
}

// row is one survey point by column name.
type row map[string]string

// writePoints returns the survey points of a quarter: the patches of every colony that a crew saw, with
// the position error of a GPS receiver. of is the colony of each row.
func writePoints(r *rand.Rand, land country, colonies []colony, quarter int) (text []byte, of []string) {
	var rows []row
	for _, c := range colonies {
		turn := courseIndex(land.courses, c.code)
		date := walkedOn(land, c.code, quarter)
		crew := "Crew " + string(rune('A'+(turn+1+quarter)%4))
		for k, p := range c.patches {
			s := c.stateOf(k, quarter)
			if s == unseen {
				continue
			}
			one := describe(r, p, s, quarter)
			one["occurrenceID"] = fmt.Sprintf("MWP-%s-%04d", calendar[quarter].name, len(rows)+1)
			one["eventDate"], one["recordedBy"], one["parcel"] = date, crew, c.parcel
			if k == 0 {
				one["occurrenceRemarks"] = remark(c, s)
			}
			rows, of = append(rows, one), append(of, c.name)
		}
	}
	blemish(rows, quarter)
	return pointsCSV(rows), of
}

// scatter is the standard deviation of a hand-held receiver under open sky, in metres along each axis,
// which gives errors of 3 to 5 m in the plane. Our choice.
const scatter = 2.8

// describe fills in what a crew records for a patch in a state.
func describe(r *rand.Rand, p patch, s state, quarter int) row {
	at := degrees(orb.Point{p.at[0] + scatter*r.NormFloat64(), p.at[1] + scatter*r.NormFloat64()})
	one := row{
		"decimalLongitude": strconv.FormatFloat(at[0], 'f', 7, 64),
		"decimalLatitude":  strconv.FormatFloat(at[1], 'f', 7, 64),
		"occurrenceStatus": "detected",
	}
	if r.IntN(8) > 0 {
		one["coordinateUncertaintyInMeters"] = strconv.Itoa(3 + r.IntN(4))
	}
	if s == gone {
		one["occurrenceStatus"] = "notDetected"
		return one
	}
	one["management_status"] = map[state]string{
		live: "untreated", treated: "treated", dead: "standing_dead", sprouted: "resprout",
	}[s]
	one["bank_slope"] = []string{"flat", "gentle", "steep"}[r.IntN(3)]
	one["photo"] = fmt.Sprintf("IMG_%04d.jpg", r.IntN(10000))
	sizeUp(r, one, p, quarter)
	lookUp(r, one, p, s)
	return one
}

// sizeUp records the size of a patch in the way the crew measures it. Areas are within about 6 % of the
// truth. Our choice.
func sizeUp(r *rand.Rand, one row, p patch, quarter int) {
	area := p.areaIn(quarter) * math.Exp(0.06*r.NormFloat64())
	switch p.measure {
	case byArea:
		one["patch_area_m2"] = decimal(area, 0)
	case bySides:
		// Clumps along a bank are about twice as long as wide.
		one["patch_length_m"] = decimal(math.Sqrt(2*area), 1)
		one["patch_width_m"] = decimal(math.Sqrt(area/2), 1)
	case byDiameter:
		one["patch_diameter_m"] = decimal(math.Sqrt(4*area/math.Pi), 1)
	}
}

// lookUp records cover and height as a crew estimates them: to 5 percent, or by Daubenmire class if the
// crew uses the card.
func lookUp(r *rand.Rand, one row, p patch, s state) {
	cover, height := p.cover, p.height
	if s == sprouted {
		cover, height = 0.4*cover, 0.4+0.25*height
	}
	switch r.IntN(10) {
	case 0: // left blank
	case 1, 2:
		one["canopy_cover_class"] = daubenmire(cover)
	default:
		one["canopy_cover_percent"] = strconv.Itoa(5 * int(math.Round(cover/5)))
	}
	if r.IntN(6) > 0 {
		one["stem_height_m"] = decimal(height, 1)
	}
}

// daubenmire returns the cover class of Daubenmire (1959), 1 to 6.
func daubenmire(cover float64) string {
	class := 1
	for _, above := range []float64{5, 25, 50, 75, 95} {
		if cover > above {
			class++
		}
	}
	return strconv.Itoa(class)
}

func decimal(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

// remark returns what a crew writes at the first patch of a colony.
func remark(c colony, s state) string {
	switch s {
	case treated:
		return c.place + ": canes left standing"
	case dead:
		return c.place + ": no green seen"
	case sprouted:
		return c.place + ": shoots from the base, \"knee high\""
	case gone:
		return c.place + ": searched 30 m about the old place"
	}
	return c.place
}

// blemish adds the mistakes of real field work, so that there are findings. Each is repaired or
// assumed; no record is lost.
func blemish(rows []row, quarter int) {
	n := len(rows)
	rows[n/2]["coordinateUncertaintyInMeters"] = "0"
	switch quarter % 4 {
	case 0:
		rows[n/3]["eventDate"] = ""
	case 1:
		rows[n/3]["occurrenceID"] = rows[n/3+1]["occurrenceID"]
	case 2:
		one := rows[firstLive(rows, n/3)]
		one["canopy_cover_percent"], one["canopy_cover_class"] = "130", ""
	case 3:
		rows[firstLive(rows, n/3)]["management_status"] = "unclear"
	}
}

// firstLive returns the first row from some index on that records a live patch.
func firstLive(rows []row, from int) int {
	for i := from; i < len(rows); i++ {
		if rows[i]["management_status"] == "untreated" {
			return i
		}
	}
	return from
}

// pointsCSV writes rows under pointColumns as RFC 4180 CSV.
func pointsCSV(rows []row) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	cells := make([]string, len(pointColumns))
	write := func(one row) {
		for i, name := range pointColumns {
			cells[i] = one[name]
		}
		_ = w.Write(cells) // writing to a bytes.Buffer does not fail
	}
	_ = w.Write(pointColumns)
	for _, one := range rows {
		write(one)
	}
	w.Flush()
	return b.Bytes()
}
