package result_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// holdOrder checks the treatment order: each stand once, in the order of stands, with its own
// figures and the running sums.
func holdOrder(b *book, rows []record) {
	acresSoFar, removed := 0.0, 0.0
	all := rows[len(rows)-1].number("exposure_removed")
	for i, r := range rows {
		s, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(there && len(rows) == len(b.tables["stands"]), "stand %q, %d rows", r.text("stand_id"), len(rows))
		for _, f := range []string{"treat_order", "management_status", "waterBody", "river_km", "decimalLongitude", "decimalLatitude"} {
			r.same(f, s.text(f))
		}
		treated := 0.0
		for _, p := range b.by("stand_parts", "stand_id")[r.text("stand_id")] {
			if p.text("part") == "treated" {
				treated = p.number("infested_acres")
			}
		}
		if treated == 0 {
			r.same("reach_km", s.text("reach_km"))
			r.same("exposure", s.text("exposure"))
			r.near("reach_alone_km", s.number("reach_alone_km"), kmStep)
		}
		asks := s.text("management_status") == "untreated" || s.text("management_status") == "resprout"
		want := 0.0
		if asks {
			want = s.number("infested_acres") - treated
		}
		if asks && r.text("acres_to_treat") == "0" { // all of it was treated after it was surveyed
			done := slices.ContainsFunc(b.by("work_done", "counted_in")[b.quarter], func(j record) bool {
				return slices.Contains(j.list("stands"), r.text("stand_id")) && j.text("date") >= s.text("last_detected")
			})
			r.must(done, "nothing is to be treated, and nothing was")
			want = 0
		}
		r.near("acres_to_treat", want, 1e-9)
		acresSoFar += want
		r.near("acres_treated", acresSoFar, float64(i+1)*acreStep)
		r.must(r.number("exposure_removed") >= removed-indexStep && (asks || r.number("exposure_removed") <= removed+indexStep), "exposure taken away %v after %v", r.number("exposure_removed"), removed)
		removed = r.number("exposure_removed")
		r.near("exposure_removed_percent", 100*removed/all, 0.0501)
		if i > 0 {
			r.must(r.number("reach_freed_km") >= rows[i-1].number("reach_freed_km"), "freed %v km after %v", r.number("reach_freed_km"), rows[i-1].number("reach_freed_km"))
		}
		holdCautions(r, s)
	}
	// the last stand frees the rest of the stream at risk from single stands
	last := rows[len(rows)-1]
	last.must(last.number("reach_freed_km") >= 0 && last.number("reach_freed_km") <= b.tables["summary"][0].number("reach_at_risk_km")+0.01, "%v km freed", last.number("reach_freed_km"))
}

// holdParts checks that the treated and the waiting part of a stand add up to it.
func holdParts(b *book, rows []record) {
	of := b.by("stand_parts", "stand_id")
	for _, r := range rows {
		r.same("quarter", b.quarter)
		s, there := b.one("stands", "stand_id", r.text("stand_id"))
		order, _ := b.one("order", "stand_id", r.text("stand_id"))
		visit, _ := b.one("followup", "stand_id", r.text("stand_id"))
		r.must(there && math.Abs(total(of[r.text("stand_id")], "infested_acres")-s.number("infested_acres")) < 1e-9, "parts of %q add up to %v acres", r.text("stand_id"), total(of[r.text("stand_id")], "infested_acres"))
		r.must(slices.Contains([]string{"area", "acres", "area and acres"}, r.text("known_by")), "known by %q", r.text("known_by"))
		r.within(0, s.number("infested_acres"), "infested_acres")
		switch r.text("part") {
		case "to_treat":
			for f, column := range map[string]string{"treat_order": "treat_order", "infested_acres": "acres_to_treat", "reach_km": "reach_km", "exposure": "exposure"} {
				r.same(f, order.text(column))
			}
			r.same("look_again", "")
		case "treated":
			r.same("treat_order", "")
			r.must(r.text("look_again") == visit.text("look_again") || r.text("look_again") == visit.text("due"), "to be looked at again by %q, of the stand %q", r.text("look_again"), visit.text("look_again"))
			r.must(r.number("exposure") >= 0 || r.text("exposure") == "", "exposure %q", r.text("exposure"))
		default:
			r.must(false, "part %q", r.text("part"))
		}
		lon, lat := r.number("decimalLongitude"), r.number("decimalLatitude")
		r.must(math.IsNaN(lon) || math.Hypot(lon-s.number("decimalLongitude"), lat-s.number("decimalLatitude")) < 0.01, "at %v, %v", lon, lat)
		r.ofQuarter(r.text("stand_id"), r.text("part"))
	}
}

// holdCautions checks the cautions about a stand.
func holdCautions(r, s record) {
	said := r.text("cautions")
	for words, is := range map[string]bool{
		"the product label, permits and local rules decide": true, "Stay out of flood water": true,
		"as last found in ": s.flag("carried"), "Assumed, not measured: ": len(s.list("assumed")) > 0, "It may lie in or out of the aquatic zone": s.flag("zone_uncertain"),
	} {
		r.must(strings.Contains(said, words) == is, "%q: said %v, is %v", words, !is, is)
	}
}

// holdPlan checks places and running costs by quarter, and that first treatments are of stands that
// need treatment.
func holdPlan(b *book, rows []record) {
	places, running, treated := map[string]float64{}, map[string]float64{}, map[string]float64{}
	sites := map[string]string{}
	for _, r := range rows {
		q := r.quarterOf("plan_quarter")
		places[q.String()]++
		r.near("place", places[q.String()], 0)
		running[q.String()] += r.number("cost")
		r.near("running_cost", running[q.String()], places[q.String()]*1e-4)
		r.must(running[q.String()] <= b.settings.Plan.Budget+places[q.String()]*1e-4, "%v of %v are spent", running[q.String()], b.settings.Plan.Budget)
		from, to := r.day("treat_from"), r.day("treat_to")
		r.must(!from.Before(q.Begin()) && !to.After(q.End()) && !to.Before(from), "to be treated from %v to %v", from, to)
		ahead := q.Ordinal() - b.run.Quarter.Ordinal()
		r.must(ahead >= 1 && ahead <= b.settings.Plan.Quarters, "planned %d quarters ahead", ahead)
		s, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(there, "no stand %q", r.text("stand_id"))
		if !there {
			continue
		}
		r.same("waterBody", s.text("waterBody"))
		r.same("river_km", s.text("river_km"))
		holdCautions(r, s)
		r.within(0, math.Inf(1), "exposure_removed", "site")
		r.must(r.text("why") != "", "no reason")
		if site := sites[s.text("stand_id")]; site != "" {
			r.same("site", site)
		}
		sites[s.text("stand_id")] = r.text("site")
		holdPlanned(r, s, treated)
	}
	for id, sum := range treated {
		s, _ := b.one("stands", "stand_id", id)
		// the blocks add up to the stand, or to less if it is not planned whole
		s.must(sum <= s.number("infested_acres")+4e-4, "of %v acres %v are planned", s.number("infested_acres"), sum)
	}
}

// holdPlanned checks one piece of work, by its kind.
func holdPlanned(r, s record, treated map[string]float64) {
	status := s.text("management_status")
	at, outline := apart([2]float64{r.number("decimalLongitude"), r.number("decimalLatitude")}, [2]float64{s.number("decimalLongitude"), s.number("decimalLatitude")}), s.number("gross_acres")
	r.must(at < 100+200*math.Sqrt(outline), "%v m from its stand of %v acres", at, outline)
	switch r.text("work") {
	case "first_treatment":
		r.must(status == "untreated" || status == "resprout", "first treatment of a stand that is %s", status)
		r.near("cost", r.number("acres"), 1e-4) // the budget is in acres
		r.within(0, 100, "chosen_percent")
		first := r.text("plan_quarter") == r.b.run.Quarter.Next().String()
		r.must((r.text("chosen_percent") != "") == first && r.text("due") == "", "chosen in %q %% of the draws, due %q", r.text("chosen_percent"), r.text("due"))
		treated[s.text("stand_id")] += r.number("acres")
		order, _ := r.b.one("order", "stand_id", s.text("stand_id"))
		most := order.number("acres_to_treat")
		if block := r.text("block"); block != "" {
			var k, n int
			_, err := fmt.Sscanf(block, "%d of %d", &k, &n)
			r.must(err == nil && k >= 1 && k <= n && n > 1, "block %q", block)
			most /= float64(n)
			r.must(most <= r.b.settings.Plan.Block+1e-4, "a block of %v acres", most)
		}
		r.near("acres", most, 1e-4)
	case "follow_up":
		r.must(r.text("chosen_percent")+r.text("block") == "", "follow-up is chosen or in blocks")
		r.must(r.number("cost") <= r.number("acres"), "follow-up costs %v for %v acres", r.number("cost"), r.number("acres"))
		if due := r.day("due"); !due.IsZero() {
			visit, _ := r.b.one("followup", "stand_id", s.text("stand_id"))
			r.must(visit.text("due") == r.text("due") || visit.text("look_again") == r.text("due"), "due %v, in the follow-up %q", r.text("due"), visit.text("due"))
		}
	default:
		r.must(false, "work %q", r.text("work"))
	}
}

// holdPlanQuarters checks each quarter against its rows of the plan.
func holdPlanQuarters(b *book, rows []record) {
	q := b.run.Quarter
	for _, r := range rows {
		q = q.Next()
		r.same("plan_quarter", q.String())
		var first, again, removed float64
		for _, p := range b.by("plan", "plan_quarter")[q.String()] {
			if p.text("work") == "first_treatment" {
				first, removed = first+p.number("cost"), removed+p.number("exposure_removed")
			} else {
				again += p.number("cost")
			}
		}
		n := float64(len(b.by("plan", "plan_quarter")[q.String()])+2) * 1e-4
		r.near("budget", b.settings.Plan.Budget, 0)
		r.same("budget_unit", "acres")
		r.near("follow_up_cost", again, n)
		r.near("first_cost", first, n)
		r.near("first_cost_most", b.settings.Plan.Budget-r.number("follow_up_cost"), 2e-4)
		r.rising("first_cost", "first_cost_most")
		r.near("follow_up_put_off", 0, 0)
		r.near("exposure_removed", removed, n)
		r.rising("exposure_removed", "exposure_bound", "exposure_waiting")
		short := 100 * (1 - r.number("exposure_removed")/r.number("exposure_bound"))
		if good := r.text("how_good"); good == "the best possible" {
			r.must(short < 0.1, "the best possible is %v %% short of the bound", short)
		} else {
			r.must(strings.HasPrefix(good, "within "), "how good: %q", good)
		}
	}
	rows[0].must(len(rows) == b.settings.Plan.Quarters, "%d quarters", len(rows))
}

// holdPlanCurve: more money removes more exposure, and the next step never more than the bound
// allows.
func holdPlanCurve(b *book, rows []record) {
	for i, r := range rows {
		r.rising("exposure_removed", "exposure_bound")
		if i == 0 {
			r.near("money", 0, 0)
			r.near("exposure_removed", 0, 0)
			continue
		}
		r.must(r.number("money") > rows[i-1].number("money") && r.number("exposure_removed") >= rows[i-1].number("exposure_removed"), "%v for %v after %v", r.number("exposure_removed"), r.number("money"), rows[i-1].number("exposure_removed"))
	}
}

// holdFollowup checks every stand, on the map or gone, against the work done on it.
func holdFollowup(b *book, rows []record) {
	for _, r := range rows {
		r.same("quarter", b.quarter)
		s, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(r.flag("on_map") == there, "on the map %v, among the stands %v", r.flag("on_map"), there)
		if there {
			for _, f := range []string{"treat_order", "management_status", "stream_id", "waterBody", "river_km", "decimalLongitude", "decimalLatitude"} {
				r.same(f, s.text(f))
			}
			r.same("last_seen", s.text("last_detected"))
			r.must((r.text("survey") == "found") != s.flag("carried"), "%s, and carried %v", r.text("survey"), s.flag("carried"))
			holdCautions(r, s)
		} else {
			holdGone(r)
		}
		holdDue(r)
		holdDone(r)
		r.within(0, 100, "clear_looks")
		r.list("earlier_ids")
		r.must(r.text("look_again_longitude") == "" || r.number("treatments") > 0, "a place to look again at, and no work")
		r.number("look_again_latitude")
		parcels := map[string]bool{}
		for _, p := range b.by("points", "stand_id")[r.text("stand_id")] {
			parcels[p.text("parcel")] = true
		}
		r.must(!there || parcels[r.text("parcel")], "parcel %q of %v", r.text("parcel"), parcels)
	}
}

// holdGone checks a stand that is not detected any more against the table of absent stands.
func holdGone(r record) {
	was, there := r.b.one("absent", "stand_id", r.text("stand_id"))
	r.must(there, "neither on the map nor absent")
	if !there {
		return
	}
	for _, f := range []string{"management_status", "stream_id", "waterBody", "river_km"} {
		r.same(f, was.text(f))
	}
	r.same("last_seen", was.text("last_detected"))
	r.same("treat_order", "")
	since, last := r.day("clear_since"), r.day("clear_last")
	r.must(!since.IsZero() && since.After(r.day("last_seen")) && !last.Before(since), "clear since %v, last seen %v, last clear %v", since, r.day("last_seen"), last)
	r.must(r.number("clear_looks") >= 1, "clear in %v looks", r.number("clear_looks"))
	r.within(-180, 180, "decimalLongitude")
	r.within(-90, 90, "decimalLatitude")
}

// holdDue checks the due days and their texts.
func holdDue(r record) {
	due, again, end := r.day("due"), r.day("look_again"), r.b.to
	next := due
	if due.IsZero() || !again.IsZero() && again.Before(due) {
		next = again
	}
	late := !next.IsZero() && next.Before(end)
	r.must(r.flag("overdue") == late, "overdue %v, due %v, look again %v", r.flag("overdue"), due, again)
	days := 0.0
	if late {
		days = end.Sub(next).Hours() / 24
	}
	r.near("days_overdue", days, 0)
	what, state := r.text("what"), r.text("state")
	words := map[string]string{"to_treat": "treat, number ", "treat_again": "treat the regrowth", "look_again": "look again by ", "watch": "look again by ", "released": "nothing"}
	rest := state == "to_treat" && strings.HasPrefix(what, "treat the rest, number ")
	looks := fmt.Sprintf("look again by %s at what was treated", r.text("look_again"))
	first := state == "treat_again" && again.Before(due) && strings.HasPrefix(what, looks+"; "+words[state])
	r.must((strings.HasPrefix(what, words[state]) || rest || first) && words[state] != "", "state %q, what %q", state, what)
	r.must(strings.Contains(what, r.text("due")), "%q does not say %s", what, r.text("due"))
	if !again.IsZero() && (first || rest || again.After(due)) {
		r.must(strings.Contains(what, looks), "%q does not say %q", what, looks)
	}
	r.must((due.IsZero()) == (state == "to_treat" || state == "released"), "state %q is due %v", state, due)
	r.must(r.text("why") != "" || state == "to_treat", "no reason for %q", state)
	if seen, visited := r.day("last_seen"), r.day("last_visit"); !visited.IsZero() {
		r.must(!visited.Before(seen) && !visited.After(end), "seen %v, visited %v", seen, visited)
	}
	r.must(slices.Contains([]string{"found", "not_found", "nobody_looked", "partly"}, r.text("survey")), "survey %q", r.text("survey"))
}

// holdDone checks the work on a stand against the list of treatments; each day counts once.
func holdDone(r record) {
	days := map[string]record{}
	last := ""
	ids := append(r.b.ancestors(r.text("stand_id")), r.list("earlier_ids")...)
	for _, j := range r.b.tables["work_done"] {
		if slices.ContainsFunc(j.list("stands"), func(id string) bool { return slices.Contains(ids, id) }) {
			days[j.text("date")] = j
			last = max(last, j.text("date"))
		}
	}
	r.near("treatments", float64(len(days)), 0)
	if len(days) == 0 {
		r.must(r.text("last_treated")+r.text("method")+r.text("formulation_class") == "", "treated, and no work is told of")
		return
	}
	r.same("last_treated", last)
	r.same("method", days[last].text("method"))
	r.same("formulation_class", days[last].text("formulation_class"))
}

// ancestors returns the ids that a stand had: its own, and those of all stands it continues.
func (b *book) ancestors(id string) []string {
	out := []string{id}
	if b == nil {
		return out
	}
	if s, there := b.one("stands", "stand_id", id); there && b.before != nil {
		for _, before := range s.list("previous_ids") {
			out = append(out, b.earlier().ancestors(before)...)
		}
	} else {
		out = append(out, b.earlier().ancestors(id)...)
	}
	return out
}

// holdStops checks the crew's stops on the grid of their unit: transverse Mercator by the series of
// Snyder 1987, Map Projections, equations 8-9, 8-10 and 3-21.
func holdStops(b *book, rows []record) {
	names := map[string]bool{}
	for i, r := range rows {
		id, name := r.text("stand_id"), r.text("gps_name")
		// stops that need no visit now come last and have no number
		if r.text("stop") != "" {
			r.near("stop", float64(i+1), 0)
			r.must(rows[max(0, i-1)].text("stop") != "" || i == 0, "a stop after those that are none")
		}
		// the first planned of several blocks has the stand's name
		r.must(!names[name] && strings.HasPrefix(name, id[2:8]) && len(name) <= 10, "called %q", name)
		r.must(name == strings.TrimPrefix(id, "20") || names[strings.TrimPrefix(id, "20")], "called %q, and nobody %s", name, id)
		names[name] = true
		visit, there := b.one("followup", "stand_id", id)
		r.must(there, "no follow-up of %q", id)
		for _, f := range []string{"due", "what", "waterBody", "river_km", "parcel"} {
			r.same(f, visit.text(f))
		}
		r.must(strings.Contains(r.text("why"), visit.text("why")), "why %q, in the follow-up %q", r.text("why"), visit.text("why"))
		if s, mapped := b.one("stands", "stand_id", id); mapped {
			for _, f := range []string{"infested_acres", "aquatic_zone", "requirements"} {
				if f != "requirements" || r.text(f) != "" {
					r.same(f, s.text(f))
				}
			}
		}
		zone, east, north := utm(r.number("decimalLongitude"), r.number("decimalLatitude"))
		r.same("utm_zone", zone)
		r.near("utm_easting_m", east, 0.02)
		r.near("utm_northing_m", north, 0.02)
		from, to := r.day("work_from"), r.day("work_to")
		r.must(!to.Before(from) && (from.IsZero() || from.After(b.to)), "to work from %v to %v", from, to)
		task := r.text("task")
		r.must(slices.ContainsFunc([]string{"treat", "look again", "treat again", "treat block"}, func(w string) bool { return strings.HasPrefix(task, w) }), "task %q", task)
		r.text("owner")
		r.text("permission")
		r.text("gate")
	}
}

func utm(lon, lat float64) (zone string, east, north float64) {
	const a, f, k0 = 6378137, 1 / 298.257223563, 0.9996
	number := int(math.Floor((lon+180)/6)) + 1
	zone = fmt.Sprint(number) + string("CDEFGHJKLMNPQRSTUVWX"[int(math.Floor((lat+80)/8))])
	e2 := f * (2 - f)
	second := e2 / (1 - e2)
	phi, middle := lat*math.Pi/180, float64(6*number-183)*math.Pi/180
	n, t, c := a/math.Sqrt(1-e2*math.Pow(math.Sin(phi), 2)), math.Pow(math.Tan(phi), 2), second*math.Pow(math.Cos(phi), 2)
	b := (lon*math.Pi/180 - middle) * math.Cos(phi)
	m := a * ((1-e2/4-3*e2*e2/64-5*e2*e2*e2/256)*phi - (3*e2/8+3*e2*e2/32+45*e2*e2*e2/1024)*math.Sin(2*phi) +
		(15*e2*e2/256+45*e2*e2*e2/1024)*math.Sin(4*phi) - 35*e2*e2*e2/3072*math.Sin(6*phi))
	east = 500_000 + k0*n*(b+(1-t+c)*math.Pow(b, 3)/6+(5-18*t+t*t+72*c-58*second)*math.Pow(b, 5)/120)
	north = k0 * (m + n*math.Tan(phi)*(b*b/2+(5-t+9*c+4*c*c)*math.Pow(b, 4)/24+(61-58*t+t*t+600*c-330*second)*math.Pow(b, 6)/720))
	if lat < 0 {
		north += 10_000_000
	}
	return zone, east, north
}
