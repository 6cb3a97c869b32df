package result_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

func parse(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return math.NaN()
	}
	return v
}

// group returns the rows summed up in a summary row, selected by the stands' column for its scope.
func (r record) group() (stands, shares []record) {
	b := r.b
	switch r.text("scope") {
	case "total":
		return b.tables["stands"], b.tables["stand_units"]
	case "waterBody":
		return b.by("stands", "waterBody")[r.text("name")], nil
	case "unnamed", "noStand", "noPlace", "noStream":
		return nil, nil
	case "outsideUnits":
		return b.by("stands", "unit_id")[""], b.by("stand_units", "unit_id")[""]
	}
	return b.by("stands", "unit_id")[r.text("unit_id")], b.by("stand_units", "unit_id")[r.text("unit_id")]
}

// holdSummary checks every row against the stands of its stream or unit, and the rows against each
// other.
func holdSummary(b *book, rows []record) {
	for _, r := range rows {
		r.same("quarter", b.quarter)
		stands, shares := r.group()
		if r.text("scope") == "unit" {
			r.must(len(shares) > 0 || r.number("gross_acres") == 0, "unit %q", r.text("name"))
		}
		holdCounts(r, stands)
		acreRows := stands
		if shares != nil {
			acreRows = shares
		}
		off := float64(len(acreRows)+1) * acreStep
		for _, f := range []string{"gross_acres", "infested_acres", "canopy_acres", "zone_acres"} {
			r.near(f, total(acreRows, f), off)
		}
		if shares == nil || r.text("scope") == "total" {
			for f, status := range map[string]string{"untreated_acres": "untreated", "treated_stands_acres": "treated", "resprout_acres": "resprout", "standing_dead_acres": "standing_dead"} {
				r.near(f, total(slices.DeleteFunc(slices.Clone(stands), func(s record) bool { return s.text("management_status") != status }), "infested_acres"), off)
			}
			r.near("carried_acres", nanTo0(total(stands, "carried_acres"), r.b.before == nil), off)
			r.near("assumed_acres", total(stands, "assumed_acres"), off)
			r.near("assumed_canopy_acres", total(stands, "assumed_canopy_acres"), off)
		}
		r.must(math.Abs(r.sum("untreated_acres", "resprout_acres")-r.number("live_acres")) < 1e-9, "%v live acres", r.number("live_acres"))
		r.must(math.Abs(r.sum("untreated_acres", "resprout_acres", "treated_stands_acres", "standing_dead_acres")-r.number("infested_acres")) < 1e-9, "acres by status")
		holdChange(r)
		holdSince(r)
		holdWorkSums(r)
		for _, f := range []string{"gross", "infested", "canopy", "live"} {
			r.rising(f+"_acres_p10", f+"_acres", f+"_acres_p90")
		}
	}
	holdColumns(b, rows)
}

func nanTo0(v float64, blank bool) float64 {
	if blank {
		return math.NaN()
	}
	return v
}

// holdCounts checks the number of stands and their fragments.
func holdCounts(r record, stands []record) {
	r.near("stands", float64(len(stands)), 0)
	for f, flag := range map[string]string{"isolated": "isolated", "aquatic_zone_stands": "aquatic_zone"} {
		n := 0.0
		for _, s := range stands {
			if s.flag(flag) {
				n++
			}
		}
		r.near(f, n, 0)
	}
	for _, f := range []string{"released", "held_at_barriers", "lost_to_age", "left_at_outlets"} {
		r.near(f, total(stands, f), 1e-9)
	}
	r.near("released", r.sum("settled", "held_at_barriers", "lost_to_age", "left_at_outlets"), 1e-9)
	if r.text("scope") != "total" {
		r.must(r.text("reach_at_risk_km_p10")+r.text("reach_at_risk_km_p50")+r.text("reach_at_risk_km_p90")+r.text("reach_break") == "", "has what only the total has")
		return
	}
	r.rising("reach_at_risk_km_p10", "reach_at_risk_km_p50", "reach_at_risk_km_p90")
	r.rising("reach_at_risk_km", "flood_reach_at_risk_km")
	length := total(r.b.tables["network"], "length_km")
	r.within(0, length+0.01, "flood_reach_at_risk_km", "reach_at_risk_km_p90", "reach_at_risk_km")
}

// holdChange checks the change from the previous quarter's acres to the present ones.
func holdChange(r record) {
	before := r.b.earlier()
	if before == nil {
		r.must(r.text("previous_acres")+r.text("new_acres")+r.text("carried_acres") == "", "a change in the first batch")
		return
	}
	now := r.sum("previous_acres", "restated_acres", "observed_change_acres", "new_acres", "found_again_acres", "first_looked_at_acres") - r.number("not_detected_acres")
	r.must(math.Abs(now-r.number("infested_acres")) < 1e-9, "parts of change lead to %v acres, %v are mapped", now, r.number("infested_acres"))
	r.rising("observed_change_acres_p10", "observed_change_acres", "observed_change_acres_p90")
	r.rising("cleared_acres", "not_detected_acres")
	r.rising("carried_acres", "infested_acres")
	r.within(0, 1000, "new_acres", "found_again_acres", "first_looked_at_acres", "cleared_acres")
	was := 0.0
	for _, s := range before.tables["summary"] {
		if s.text("scope") == r.text("scope") && s.text("name") == r.text("name") && s.text("unit_id") == r.text("unit_id") {
			was = s.number("infested_acres")
		}
	}
	// as printed; in rows the last digits may be moved so that they add up
	r.near("previous_acres", was, 3.01*acreStep)
	if r.text("scope") == "total" {
		r.near("previous_acres", was, 0)
	}
	if r.text("scope") == "total" {
		fresh := map[string]float64{}
		for _, s := range r.b.tables["stands"] {
			fresh[s.text("change")] += s.number("infested_acres")
		}
		r.must(r.number("new_acres") >= fresh["new"]-float64(len(r.b.tables["stands"]))*acreStep || r.number("first_looked_at_acres") > 0, "new %v acres, stands that are new %v", r.number("new_acres"), fresh["new"])
		gone := 0.0
		for _, l := range r.b.tables["lineage"] {
			if l.text("change") == "not detected" && l.text("previous_quarter") != "" {
				gone += l.number("previous_acres")
			}
		}
		r.near("not_detected_acres", gone, 1e-4)
	}
}

// holdSince checks the change since the last look: against present and earlier acres, and against
// the stands.
func holdSince(r record) {
	live := r.number("infested_since_last_look_acres") - r.number("treated_stands_since_last_look_acres") - r.number("standing_dead_since_last_look_acres")
	r.must(math.Abs(live-r.number("live_since_last_look_acres")) < 1e-9 || math.IsNaN(live), "%v live acres since the last look, %v", r.number("live_since_last_look_acres"), live)
	looked := 0.0
	for _, l := range r.list("last_looks") {
		quarter, acres, _ := strings.Cut(l, " ")
		r.must(quarter <= r.b.quarter, "looked at in %s", quarter)
		looked += parse(acres)
	}
	// ground looked at now or before, and stands gone since
	if r.b.before != nil {
		want := r.number("infested_acres") + r.number("not_detected_acres")
		r.must(math.Abs(looked-want) < 1e-5 || looked >= r.number("infested_acres")-1e-5, "%v acres at their last looks, %v mapped and %v not detected", looked, r.number("infested_acres"), r.number("not_detected_acres"))
	}
	for _, f := range []string{"live_off_by_look", "infested_off_by_look"} {
		for _, part := range r.list(f) {
			of, acres, _ := strings.Cut(part, " ")
			r.must(parse(acres) > 0 && (of == "defaults" || of <= r.b.quarter), "%s: %q", f, part)
		}
	}
	for _, of := range []string{"gross", "canopy", "zone"} {
		r.within(-1000, 1000, of+"_since_last_look_acres")
	}
	var changes []record
	for _, c := range r.b.by("stand_changes", "quarter")[r.b.quarter] {
		if c.text("scope") == r.text("scope") && c.text("name") == r.text("name") {
			changes = append(changes, c)
		}
	}
	for _, of := range []string{"gross", "infested", "canopy", "zone", "treated_stands", "standing_dead"} {
		if f := of + "_since_last_look_acres"; r.text("scope") == "waterBody" || r.text("scope") == "unit" {
			r.near(f, nanTo0(total(changes, f), r.text(f) == ""), float64(len(changes)+2)*acreStep)
		}
	}
}

// holdWorkSums checks control work of the quarter against the list of treatments.
func holdWorkSums(r record) {
	var jobs []record
	for _, j := range r.b.by("work_done", "counted_in")[r.b.quarter] {
		if r.text("scope") == "total" || r.text("scope") == "waterBody" && slices.Contains(j.list("waterBodies"), r.text("name")) || r.text("scope") == "unit" && slices.Contains(j.list("unit_ids"), r.text("unit_id")) {
			jobs = append(jobs, j)
		}
	}
	split := map[string]float64{}
	for _, j := range jobs {
		class := j.text("formulation_class")
		if class == "none" {
			class = "no_formulation"
		}
		for _, word := range []string{j.text("method"), class} {
			split["work_done_"+strings.NewReplacer(" ", "_", "-", "_").Replace(word)+"_acres"] += j.number("treated_acres")
		}
	}
	methods, classes := 0.0, 0.0
	for _, m := range []string{"foliar_spray", "cut_stump", "injection", "basal_bark", "hand_pull", "digging", "cutting", "mowing", "covering", "other_method", "no_method"} {
		f := fmt.Sprintf("work_done_%s_acres", m)
		methods += r.sum(f)
		if r.text("scope") != "unit" { // work on a border is divided between units
			r.near(f, split[f], 1e-6)
		}
	}
	for _, c := range []string{"aquatic_labelled", "general", "no_formulation", "other_class", "no_class"} {
		f := fmt.Sprintf("work_done_%s_acres", c)
		classes += r.sum(f)
		if r.text("scope") != "unit" {
			r.near(f, split[f], 1e-6)
		}
	}
	r.near("work_done_acres", methods, 1e-9)
	r.near("work_done_acres", classes, 1e-9)
	if s := r.text("scope"); s == "total" || s == "waterBody" {
		r.near("work_done_jobs", float64(len(jobs)), 0)
		r.near("work_done_jobs_acres_unknown", 0, 0)
		r.near("work_done_acres", total(jobs, "treated_acres"), 1e-6)
	}
}

// holdColumns checks that every additive column adds up, by streams and by units.
func holdColumns(b *book, rows []record) {
	for field := range rows[0].cells {
		switch {
		case slices.Contains([]string{"scope", "name", "unit_id", "quarter", "reach_break", "last_looks"}, field),
			strings.Contains(field, "_p10"), strings.Contains(field, "_p50"), strings.Contains(field, "_p90"), strings.HasSuffix(field, "_off_by_look"):
			continue
		}
		for _, scopes := range [][]string{{"waterBody", "unnamed", "noStream", "noStand"}, {"unit", "outsideUnits", "noPlace"}} {
			sum := 0.0
			for _, r := range rows[1:] {
				if slices.Contains(scopes, r.text("scope")) {
					sum += r.sum(field)
				}
			}
			rows[0].must(math.Abs(sum-rows[0].sum(field)) < 1e-8, "%s of %s adds up to %v, and the total is %v", field, scopes[0], sum, rows[0].sum(field))
		}
	}
}
