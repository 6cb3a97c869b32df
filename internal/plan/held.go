package plan

import "math"

// never is more quarters than a stand can go unseen: follow-up needs no look beforehand, since it
// is a look.
const never = math.MaxInt

// hold lists the stands that need treatment and cannot be treated in the first quarter.
func (p *planner) hold() {
	for i := range p.site.Stands {
		st := &p.site.Stands[i]
		if len(st.Waiting) == 0 {
			continue
		}
		window := st.window(p.quarters[0], 0, p.s.LookFirst)
		if window.Why == "" {
			continue
		}
		h := Held{Stand: int32(i), Why: window.Why, Seeds: st.Reaches}
		for _, b := range st.Waiting {
			h.Leaves += b.Exposure
		}
		for q := 1; q < len(p.quarters) && h.Until.IsZero(); q++ {
			if st.window(p.quarters[q], q, p.s.LookFirst).Why == "" {
				h.Until = p.quarters[q]
			}
		}
		p.out.Held = append(p.out.Held, h)
	}
}
