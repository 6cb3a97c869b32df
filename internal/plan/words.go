package plan

import (
	"fmt"
	"strconv"

	"driftreach/geo"
)

// Text writes an amount of the budget for readers: acres as everywhere, money to the hundredth.
func (p *Plan) Text(v Cost) string {
	if p.Unit == unitOfAcres {
		return geo.Acres(v).Text()
	}
	return strconv.FormatFloat(float64(v), 'f', 2, 64)
}

// say sets the reasons in the rows of a quarter's first treatments.
func (p *planner) say(rows []Row) {
	planned := make(map[int32]bool, len(rows))
	for i := range rows {
		planned[rows[i].Stand] = true
	}
	for i := range rows {
		r := &rows[i]
		st := &p.site.Stands[r.Stand]
		below := 0
		for _, other := range st.Reaches {
			if planned[other] && other != r.Stand {
				below++
			}
		}
		switch {
		case p.s.OutliersFirst && st.Outlier:
			r.Why = "young and by itself"
		case below > 0 && r.Exposure > 0:
			r.Why = fmt.Sprintf("of the best set for the money; its fragments reach %s planned too", plural(below, "stand"))
		case below > 0:
			r.Why = fmt.Sprintf("its fragments reach %s planned below it", plural(below, "stand"))
		default:
			r.Why = "of the best set for the money"
		}
		if r.Blocks > 1 {
			r.Why += fmt.Sprintf("; block %d of %d, from the top down", r.Block, r.Blocks)
		}
	}
}

// GapWords says how close a quarter's first treatments are to the best possible.
func (q *Quarter) GapWords() string {
	switch {
	case q.First == 0 && q.Exposure == 0 && q.All == 0:
		return "no first treatment would take exposure away"
	case q.Exact || q.Gap() == 0:
		return "the best possible"
	}
	percent := 100 * float64(q.Gap())
	places := 1
	if percent < 0.1 {
		places = 2
	}
	shown := strconv.FormatFloat(percent, 'f', places, 64)
	if v, _ := strconv.ParseFloat(shown, 64); v < percent { // rounded up: the text must not claim to be closer
		shown = strconv.FormatFloat(v+pow10(-places), 'f', places, 64)
	}
	return "within " + shown + " % of the best possible"
}

func pow10(n int) float64 {
	v := 1.0
	for ; n < 0; n++ {
		v /= 10
	}
	return v
}

func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
