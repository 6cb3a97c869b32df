package result_test

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// holdWork checks control work against the input rows, of this quarter and earlier ones.
func holdWork(b *book, rows []record) {
	handedIn := map[string][]map[string]string{}
	n := 0
	for s := b.step; s != nil; s = s.before {
		for _, row := range inputTable(b.T, s.inputs["treatments"]) {
			n++
			key := workKey(row["date"], parse(row["decimalLongitude"]), parse(row["decimalLatitude"]))
			handedIn[key] = append(handedIn[key], row)
		}
	}
	keys := map[string]bool{}
	for i, r := range rows {
		r.must(len(r.text("key")) == 16 && !keys[r.text("key")], "key %q", r.text("key"))
		keys[r.text("key")] = true
		r.must(r.text("date") >= rows[max(0, i-1)].text("date"), "%s comes too late", r.text("date"))
		q := r.quarterOf("counted_in")
		r.must(!r.day("date").Before(q.Begin()) && !r.day("date").After(q.End()) && q.String() <= b.quarter, "%s counts in %s", r.text("date"), q)
		known := handedIn[workKey(r.text("date"), r.number("decimalLongitude"), r.number("decimalLatitude"))]
		if len(known) == 0 {
			r.must(false, "was not handed in")
			continue
		}
		row := known[0]
		for _, f := range []string{"stand_id", "method", "formulation_class", "product", "registration_number", "amount_unit", "applicator", "licence", "start_time", "end_time"} {
			r.same(f, row[f])
		}
		for f, off := range map[string]float64{"treated_acres": 0, "amount": 0, "wind_mps": 0, "temperature_c": 0.05, "hours": 0} {
			r.near(f, parse(row[f]), off)
		}
		// the hours of the day are those between the first and the last time
		var fromH, fromM, toH, toM int
		_, err := fmt.Sscanf(r.text("start_time")+" "+r.text("end_time"), "%d:%d %d:%d", &fromH, &fromM, &toH, &toM)
		r.must(err == nil && math.Abs(float64(toH-fromH)+float64(toM-fromM)/60-r.number("hours")) < 1e-9, "%s to %s are %v h", r.text("start_time"), r.text("end_time"), r.number("hours"))
		for _, id := range r.list("stands") {
			r.must(standID.MatchString(id) && id[:6] <= b.quarter, "on stand %q", id)
			if s, there := b.one("stands", "stand_id", id); there && r.text("counted_in") == b.quarter {
				r.must(slices.Contains(r.list("waterBodies"), s.text("waterBody")), "waters %v, the stand's is %q", r.list("waterBodies"), s.text("waterBody"))
				at := orb.Point{r.number("decimalLongitude"), r.number("decimalLatitude")}
				away := apart(at, orb.Point{s.number("decimalLongitude"), s.number("decimalLatitude")})
				r.must(away < 60+120*math.Sqrt(s.number("gross_acres")), "%v m from its stand", away)
				r.must(slices.Contains(r.list("unit_ids"), s.text("unit_id")), "units %v, the stand's is %q", r.list("unit_ids"), s.text("unit_id"))
			}
		}
		r.text("treated_ground")
		r.text("photo_numbers")
	}
	if len(rows) > 0 {
		rows[0].must(len(rows) == n, "%d of %d pieces of work", len(rows), n)
	}
}

// workKey distinguishes pieces of work on one day by their position, printed to seven digits.
func workKey(day string, lon, lat float64) string { return fmt.Sprintf("%s %.7f %.7f", day, lon, lat) }

// holdProducts checks the sums by month, product, number and unit against the list of work.
func holdProducts(b *book, rows []record) {
	type sums struct{ jobs, amount, acres, hours float64 }
	want := map[string]*sums{}
	for _, j := range b.tables["work_done"] {
		if j.text("product") == "" {
			continue
		}
		key := strings.Join([]string{j.text("date")[:7], j.text("product"), j.text("registration_number"), j.text("amount_unit")}, "|")
		if want[key] == nil {
			want[key] = &sums{}
		}
		s := want[key]
		s.jobs, s.amount, s.acres, s.hours = s.jobs+1, s.amount+j.number("amount"), s.acres+j.number("treated_acres"), s.hours+j.number("hours")
	}
	for _, r := range rows {
		s := want[strings.Join([]string{r.text("month"), r.text("product"), r.text("registration_number"), r.text("amount_unit")}, "|")]
		if s == nil {
			r.must(false, "no work with it")
			continue
		}
		r.near("jobs", s.jobs, 0)
		r.near("amount", s.amount, 1e-9)
		r.near("treated_acres", s.acres, 1e-6)
		r.near("hours", s.hours, 1e-9)
		r.near("jobs_amount_unknown", 0, 0)
		r.near("jobs_acres_unknown", 0, 0)
	}
	if len(rows) > 0 {
		rows[0].must(len(rows) == len(want), "%d of %d", len(rows), len(want))
	}
}

// holdNotices checks planned work by others against its input file, and its distance from the
// stand.
func holdNotices(b *book, rows []record) {
	works, last := b.features("works", "work_id"), ""
	for _, r := range rows {
		work := works[r.text("work_id")]
		r.must(work != nil, "work %q was not handed in", r.text("work_id"))
		for _, f := range []string{"kind", "start_date", "end_date", "contact"} {
			r.must(work[f] == r.text(f), "%s is %q, handed in as %v", f, r.text(f), work[f])
		}
		s, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(there, "stand %q", r.text("stand_id"))
		if there {
			r.same("treat_order", s.text("treat_order"))
			if b.run.Previous == nil {
				r.must(s.text("management_status") != "standing_dead", "warned of a dead stand")
			}
		}
		r.same("notice_id", r.text("work_id")+"/"+r.text("stand_id"))
		near := r.number("distance_m") <= b.settings.Treatment.Notice
		r.must(near == slices.Contains(r.list("why"), "near a live stand"), "%v m off: %v", r.number("distance_m"), r.list("why"))
		r.within(0, 1e5, "distance_m", "clean_reach_km")
		r.must(near == strings.Contains(r.text("caution"), "do not cut, mow or dig through it"), "caution %q", r.text("caution"))
		r.named(r.text("start_date"), r.text("end_date"), r.text("work_id"), r.text("stand_id"))
		r.must(r.text("start_date") >= last, "%s after %s", r.text("start_date"), last)
		last = r.text("start_date")
	}
}

// holdStretches checks where to look next.
func holdStretches(b *book, rows []record) {
	listed, all, sampled := 0.0, 0.0, 0.0
	for i, r := range rows {
		r.near("survey_order", float64(i+1), 0)
		line, _, _ := strings.Cut(r.text("stretch_id"), "/")
		r.must(len(r.list("stream_ids")) > 0 && r.list("stream_ids")[0] == line, "%s lies on %v", r.text("stretch_id"), r.list("stream_ids"))
		edge, there := b.one("network", "stream_id", line)
		r.must(there, "no line %q", line)
		r.same("waterBody", edge.text("waterBody"))
		length := r.number("length_km")
		r.near("length_km", r.number("from_km")-r.number("to_km"), 2*kmStep)
		r.must(length > 0 && length <= b.settings.SurveyNext.Stretch+kmStep, "%v km long", length)
		since := r.number("exposure_since_look")
		r.near("exposure_density", since/length, indexStep+since/length*1e-4/length)
		q := r.quarterOf("exposure_counted_from")
		switch looked := r.text("looked_at"); looked {
		case "never", "quarter not known":
			r.must(r.text("quarters_since_looked_at") == "", "%s, %v quarters since", looked, r.text("quarters_since_looked_at"))
			r.must(looked != "never" || r.number("never_looked_at_percent") >= 50 || slices.Contains(r.list("why"), "never looked at") || i >= 0, "never looked at, and %v %% not", r.number("never_looked_at_percent"))
		default:
			at := r.quarterOf("looked_at")
			r.near("quarters_since_looked_at", float64(b.run.Quarter.Ordinal()-at.Ordinal()), 0)
			r.must(q.Ordinal() <= b.run.Quarter.Ordinal()+1, "counted from %v", q)
		}
		r.within(0, 100, "never_looked_at_percent")
		r.within(0, 1e6, "exposure_now", "exposure_since_look")
		nearest := r.text("nearest_stand_id")
		r.must((r.number("stands_near") > 0) == (nearest != ""), "%v stands near, the nearest %q", r.number("stands_near"), nearest)
		if s, known := b.one("stands", "stand_id", nearest); nearest != "" {
			r.must(known, "no stand %q", nearest)
			away := apart(orb.Point{r.number("decimalLongitude"), r.number("decimalLatitude")}, orb.Point{s.number("decimalLongitude"), s.number("decimalLatitude")})
			r.must(away < 1000*length+b.settings.SurveyNext.Near+150, "%v m from the upper end of %v km", away, length)
		}
		for _, w := range r.list("works") {
			r.must(b.features("works", "work_id")[w] != nil, "no work %q", w)
		}
		r.list("access")
		all += length
		if r.flag("listed") {
			listed += length
			r.must(len(r.list("why")) > 0, "on the list without a reason")
		}
		if r.flag("random_sample") {
			sampled++
			r.must(slices.Contains(r.list("why"), "random sample"), "drawn, and why: %v", r.list("why"))
		}
		if r.ofQuarter(r.text("waterBody")); r.flag("listed") {
			r.must(strings.HasPrefix(r.text("name"), fmt.Sprintf("%d. ", i+1)), "name %q", r.text("name"))
		}
	}
	rows[0].must(math.Abs(listed/all-b.settings.SurveyNext.ListShare) < 0.02, "%v of %v km are listed", listed, all)
	for _, r := range rows {
		r.near("inclusion_probability", sampled/float64(len(rows)), 1e-6)
	}
}

// holdWaterWork checks the fields for applications: feet and miles equal the same metres, and the
// parts equal the whole.
func holdWaterWork(b *book, rows []record) {
	sums := map[string]map[string]float64{}
	for _, r := range rows {
		part, place := r.text("part"), r.text("place")
		r.must(slices.Contains([]string{"proposed", "done", "product"}, part) && slices.Contains([]string{"all", "at water", "off water", "not known"}, place), "%s, %s", part, place)
		if name := r.text("unit_name"); name != "" {
			r.must(b.features("units", "unit_id")[r.text("unit_id")]["unit_name"] == name, "unit %q is called %q", r.text("unit_id"), name)
		}
		if water := r.text("waterBody"); water != "" {
			_, there := b.one("network", "waterBody", water)
			r.must(there && place == "at water", "%q, %s", water, place)
		}
		for _, of := range []string{"bank", "channel", "both_banks", "shore"} {
			metres := r.number(of + "_m")
			r.near(of+"_ft", metres/0.3048, 0.05+0.051/0.3048)
			r.near(of+"_mi", metres/1609.344, 5e-5+0.051/1609.344)
		}
		r.near("bank_m", nanTo0(r.sum("channel_m", "shore_m")+r.sum("both_banks_m"), r.text("bank_m") == ""), 0.16)
		r.rising("areas_in_zone", "areas")
		r.rising("areas_planned", "areas")
		r.rising("zone_acres", "acres")
		r.rising("acres_within_7_5_m", "acres_within_60_m", "acres")
		r.rising("repeat_acres", "acres")
		for _, month := range append(r.list("proposed_months"), r.text("period")) {
			r.must(month == "" || len(month) == 7 && month[4] == '-' || len(month) == 4, "month %q", month)
		}
		for _, f := range []string{"methods", "parcels", "owners"} {
			list := r.list(f)
			r.must(slices.IsSorted(list) && len(slices.Compact(slices.Clone(list))) == len(list), "%s are %v", f, list)
		}
		for _, class := range r.list("formulation_classes") {
			r.must(class == "aquatic-labelled" || class == "general" || class == "none", "class %q", class)
		}
		key := part
		if place == "all" {
			key += " all"
		}
		if sums[key] == nil {
			sums[key] = map[string]float64{}
		}
		for _, f := range []string{"areas", "areas_in_zone", "areas_planned", "acres", "zone_acres", "jobs", "amount", "repeats", "repeat_acres", "bank_m", "jobs_acres_unknown", "jobs_amount_unknown"} {
			sums[key][f] += r.sum(f)
		}
		holdProductRow(r)
	}
	holdWaterSums(b, rows[0], sums)
}

// holdProductRow checks the figures of a product's rows against the list of products.
func holdProductRow(r record) {
	if r.text("part") != "product" {
		return
	}
	jobs := 0.0
	for _, j := range r.b.tables["work_done"] {
		if j.text("product") == r.text("product") && j.text("registration_number") == r.text("registration_number") && j.text("amount_unit") == r.text("amount_unit") &&
			strings.HasPrefix(j.text("date"), r.text("period")) && (r.text("unit_id") == "" || slices.Contains(j.list("unit_ids"), r.text("unit_id"))) &&
			(r.text("waterBody") == "" || slices.Contains(j.list("waterBodies"), r.text("waterBody"))) {
			jobs++
		}
	}
	r.must(jobs >= r.number("jobs"), "%v jobs, %v in the list", r.number("jobs"), jobs)
	if r.text("place") == "all" {
		r.near("jobs", jobs, 0)
	}
}

// holdWaterSums checks that the proposed sums equal those of the treatment order, and the sums of
// work done equal those of the list of work.
func holdWaterSums(b *book, r record, sums map[string]map[string]float64) {
	asked := 0.0
	for _, o := range b.tables["order"] {
		asked += o.number("acres_to_treat")
	}
	near := func(what string, got, want, off float64) {
		r.must(math.Abs(got-want) <= off, "%s: %v, want %v", what, got, want)
	}
	near("acres proposed", sums["proposed all"]["acres"], asked, 2*acreStep)
	near("acres proposed by place", sums["proposed"]["acres"], asked, 1e-5)
	near("areas by place", sums["proposed"]["areas"], sums["proposed all"]["areas"], 0)
	near("areas in the zone by place", sums["proposed"]["areas_in_zone"], sums["proposed all"]["areas_in_zone"], 0)
	near("areas planned by place", sums["proposed"]["areas_planned"], sums["proposed all"]["areas_planned"], 0)
	near("metres of bank by place", sums["proposed"]["bank_m"], sums["proposed all"]["bank_m"], 3)
	near("acres done by place", sums["done"]["acres"], sums["done all"]["acres"], 1e-5)
	near("jobs by place", sums["done"]["jobs"], sums["done all"]["jobs"], 0)
	near("repeats by place", sums["done"]["repeats"], sums["done all"]["repeats"], 0)
	near("amounts by place", sums["product"]["amount"], sums["product all"]["amount"], 1e-9)
	near("jobs done", sums["done all"]["jobs"], float64(len(b.tables["work_done"])), 0)
	near("acres unknown", sums["done all"]["jobs_acres_unknown"]+sums["product all"]["jobs_amount_unknown"], 0, 0)
}

// holdLineage checks which stand continues which, against the stands of both quarters.
func holdLineage(b *book, rows []record) {
	before := b.earlier()
	for _, r := range rows {
		r.same("quarter", b.quarter)
		now, here := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(here == (r.text("stand_id") != ""), "stand %q", r.text("stand_id"))
		if here {
			r.same("change", now.text("change"))
			r.same("infested_acres", now.text("infested_acres"))
		} else {
			r.same("change", "not detected")
		}
		previous := r.text("previous_id")
		if previous == "" {
			r.must(!r.flag("keeps_id") && (r.text("change") == "new" || r.text("change") == "first looked at"), "%s continues nothing", r.text("change"))
			continue
		}
		r.must(r.flag("keeps_id") == (previous == r.text("stand_id")), "keeps its identity %v: %q, %q", r.flag("keeps_id"), previous, r.text("stand_id"))
		if was, there := before.one("stands", "stand_id", previous); there {
			r.near("previous_acres", was.number("infested_acres"), acreStep)
			r.must(r.text("previous_quarter") <= before.quarter, "known from %s", r.text("previous_quarter"))
		}
		least := math.Min(r.number("previous_acres"), fmax(r.number("infested_acres"), 0))
		r.must(!(r.number("shared_acres") > least+acreStep), "%v acres shared of %v", r.number("shared_acres"), least)
		r.must(!(r.number("shared_acres") > 0) || r.number("apart_m") == 0, "%v acres shared, %v m apart", r.number("shared_acres"), r.number("apart_m"))
		r.within(0, 500, "apart_m")
		r.within(0, 100, "surveyed_percent")
		r.must(r.flag("visited") == (r.text("change") != "not resurveyed"), "visited %v, %s", r.flag("visited"), r.text("change"))
		r.must(r.flag("visited") == (r.number("surveyed_percent") > 0), "visited %v, %v %% surveyed", r.flag("visited"), r.number("surveyed_percent"))
	}
}

// holdChanges checks a stand's part in the changes of one quarter.
func holdChanges(b *book, rows []record) {
	for _, r := range rows {
		r.must(standID.MatchString(r.text("stand_id")) && r.text("stand_id")[:6] <= b.quarter && r.quarterOf("quarter").String() <= b.quarter, "%s in %s", r.text("stand_id"), r.text("quarter"))
		scope := r.text("scope")
		r.must(scope == "unit" || scope == "waterBody", "scope %q", scope)
		if scope == "unit" {
			r.must(b.features("units", "unit_id")[r.text("unit_id")]["unit_name"] == r.text("name"), "unit %q is called %q", r.text("unit_id"), r.text("name"))
		} else {
			_, there := b.one("network", "waterBody", r.text("name"))
			r.must(there, "no water %q", r.text("name"))
		}
		r.flag("shared")
		gone, infested := r.sum("treated_stands_since_last_look_acres", "standing_dead_since_last_look_acres"), r.number("infested_since_last_look_acres")
		r.must(!math.IsNaN(gone+infested), "blank")
		for _, of := range []string{"gross", "canopy", "zone"} {
			r.within(-100, 100, of+"_since_last_look_acres")
		}
	}
}

// holdAbsent checks stands that are gone against the last quarter that had them.
func holdAbsent(b *book, rows []record) {
	before := b.earlier()
	for _, r := range rows {
		r.same("quarter", b.quarter)
		_, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(!there, "absent and mapped")
		r.must(r.text("last_quarter") < r.text("absent_since") && r.text("absent_since") <= b.quarter, "last in %s, absent since %s", r.text("last_quarter"), r.text("absent_since"))
		was, mapped := before.one("stands", "stand_id", r.text("stand_id"))
		if !mapped {
			was, mapped = before.one("absent", "stand_id", r.text("stand_id"))
		} else {
			r.same("absent_since", b.quarter)
			r.must(r.flag("visited"), "gone, and nobody looked")
		}
		r.must(mapped, "was not known before")
		if mapped {
			for _, f := range []string{"management_status", "stream_id", "waterBody", "river_km", "isolated", "first_detected", "last_detected"} {
				r.same(f, was.text(f))
			}
			for _, f := range []string{"gross_acres", "infested_acres", "canopy_acres", "zone_acres"} {
				r.near(f, was.number(f), acreStep)
			}
		}
		r.named(r.text("first_detected"), r.text("last_detected"), r.text("stand_id"), r.text("absent_since"))
	}
}

// holdLookedAt checks the surveyed ground, piece by piece.
func holdLookedAt(b *book, rows []record) {
	rows[0].must(len(rows) == b.run.Surveyed.Len(), "%d rows of %d pieces", len(rows), b.run.Surveyed.Len())
	for i, r := range rows {
		r.same("quarter", b.quarter)
		km2 := acres(b.run.Surveyed.At(i)) * 4046.8564224 / 1e6
		r.near("area_km2", km2, 5e-5+1e-5*km2)
		r.ofQuarter(b.quarter)
	}
}

// holdEver checks all acres ever mapped, by stage; those of this quarter against the tables.
func holdEver(b *book, rows []record) {
	by := map[string]map[string]record{}
	for _, r := range rows {
		if q := r.text("quarter"); by[q] == nil {
			by[q] = map[string]record{}
		}
		by[r.text("quarter")][r.text("stage")] = r
	}
	last := 0.0
	for q := b.step; q != nil; q = q.before {
		stages := by[q.run.Quarter.String()]
		stands, sum := 0.0, 0.0
		for name, r := range stages {
			if name != "ever_mapped" {
				stands, sum = stands+r.number("stands"), sum+r.number("acres")
			}
		}
		all := stages["ever_mapped"]
		all.near("stands", stands, 0)
		all.near("acres", sum, 1e-9)
		all.must(last == 0 || all.number("acres") <= last, "%v acres ever mapped, and %v in the quarter after", all.number("acres"), last)
		last = all.number("acres")
	}
	now, s := by[b.quarter], b.tables["summary"][0]
	for stage, acres := range map[string]float64{
		"live": s.number("live_acres") - now["lost_again"].number("acres"), "treated": s.number("treated_stands_acres"), "standing_dead": s.number("standing_dead_acres"),
	} {
		now[stage].near("acres", acres, 1e-9)
	}
	gone := 0.0
	for stage, r := range now {
		if strings.HasPrefix(stage, "clear_") || stage == "not_detected" || stage == "released" {
			gone += r.number("stands")
		}
	}
	s.must(int(gone) == len(b.tables["absent"]), "%v stands gone, %d are absent", gone, len(b.tables["absent"]))
}
