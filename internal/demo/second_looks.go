package demo

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
)

// FindsSmall and FindsLarge are the probabilities that one survey finds a patch of less than 10 square
// metres, or a larger one. Our choice.
const (
	FindsSmall = 0.6
	FindsLarge = 0.9
	largeFrom  = 10.0 // square metres
)

// betweenLooks is the number of days between the two crews. Our choice.
const betweenLooks = 14

// writeSecondLooks returns what two crews found along the water in every quarter but the first,
// independently of each other: one row for each patch that at least one of them found.
func writeSecondLooks(r *rand.Rand, land country, colonies []colony) []byte {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	_ = w.Write([]string{"decimalLongitude", "decimalLatitude", "first_date", "second_date", "first_found", "second_found", "size_m2", "first_hours_per_km", "second_hours_per_km"})
	for quarter := 1; quarter < quarters; quarter++ {
		for _, c := range colonies {
			if c.code == "" || !visited(c.walk, quarter) {
				continue
			}
			for _, p := range c.patches {
				if row := secondLook(r, land, c.code, p, quarter); row != nil {
					_ = w.Write(row)
				}
			}
		}
	}
	w.Flush()
	return b.Bytes()
}

// secondLook returns the row for a patch in a quarter; nil if there is no plant or neither crew found
// it.
func secondLook(r *rand.Rand, land country, code string, p patch, quarter int) []string {
	if s := p.past[quarter]; s == unseen || s == gone {
		return nil
	}
	area, chance := p.areaIn(quarter), FindsSmall
	if area >= largeFrom {
		chance = FindsLarge
	}
	first, second, slow := r.Float64() < chance, r.Float64() < chance, r.IntN(2) == 0
	if !first && !second {
		return nil
	}
	at := degrees(p.at)
	turn := courseIndex(land.courses, code) + 1
	day := surveyDay(turn, len(land.courses)+1, quarter)
	yes := map[bool]string{true: "yes", false: "no"}
	effort := map[bool]string{true: "1.5", false: "0.7"}
	return []string{
		decimal(at[0], 7), decimal(at[1], 7), day.Format("2006-01-02"), day.AddDate(0, 0, betweenLooks).Format("2006-01-02"),
		yes[first], yes[second], decimal(area, 1), effort[slow], effort[!slow],
	}
}
