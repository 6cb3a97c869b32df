package result_test

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/paulmach/orb"
)

// holdPoints checks the points against the input rows.
func holdPoints(b *book, rows []record) {
	handedIn := map[string]map[string]string{}
	for s := b.step; s != nil; s = s.before {
		for _, row := range inputTable(b.T, s.inputs["points"]) {
			if handedIn[row["occurrenceID"]] == nil { // rows of this quarter come first
				handedIn[row["occurrenceID"]] = row
			}
		}
	}
	ours := map[string]bool{}
	for _, row := range b.input("points") {
		ours[row["occurrenceID"]] = true
	}
	told := b.by("findings", "record")
	for _, r := range rows {
		id, _, twice := strings.Cut(r.text("occurrenceID"), "~") // of two records with the same id the second has a mark
		row := handedIn[id]
		if row == nil {
			r.must(false, "record %q was not handed in", id)
			continue
		}
		r.must(r.flag("carried") != ours[id] && (r.text("carried_from") != "") == r.flag("carried"), "carried %v from %q", r.flag("carried"), r.text("carried_from"))
		if r.flag("carried") {
			r.must(strings.Contains(id, r.text("carried_from")), "%s is carried from %s", id, r.text("carried_from"))
		}
		if !twice && len(told[id+"~2"]) == 0 && !strings.Contains(fmt.Sprint(told[id]), "id-duplicate") {
			holdPoint(r, row, len(told[id]) > 0)
		}
	}
	r := rows[0]
	r.must(len(rows) >= len(ours), "%d of %d records", len(rows), len(ours))
}

// holdPoint checks one point. The texts of a point with a finding are not checked.
func holdPoint(r record, row map[string]string, told bool) {
	detected := row["occurrenceStatus"] != "notDetected"
	stand, there := r.b.one("stands", "stand_id", r.text("stand_id"))
	r.must(detected == (r.text("occurrenceStatus") == "detected") && detected == there, "%q, in a stand %v", r.text("occurrenceStatus"), there)
	if there {
		r.must(!r.flag("aquatic_zone") || stand.flag("aquatic_zone"), "in the zone, and its stand is not")
	}
	uncertainty := parse(row["coordinateUncertaintyInMeters"])
	r.must(r.flag("zone_uncertain") == (uncertainty > r.b.run.Setback), "uncertain %v at %v m", r.flag("zone_uncertain"), uncertainty)
	for field, column := range map[string]string{
		"recordedBy": "recordedBy", "parcel": "parcel", "occurrenceRemarks": "occurrenceRemarks", "bank_slope": "bank_slope", "photo": "photo",
	} {
		r.same(field, row[column])
	}
	if told {
		return
	}
	r.same("eventDate", row["eventDate"])
	if uncertainty == 0 {
		uncertainty = math.NaN() // an uncertainty of 0 means unknown
	}
	r.near("coordinateUncertaintyInMeters", uncertainty, 0.005)
	if detected {
		r.same("management_status", orElse(row["management_status"], "untreated"))
		r.near("stem_height_m", parse(row["stem_height_m"]), 0.005)
		r.near("patch_area_m2", patchOf(row), 0.0051)
		r.near("canopy_cover_percent", coverOf(row), 0.05)
	}
}

// patchOf returns the recorded area of a patch, else its length times its width, else the area of a
// circle.
func patchOf(row map[string]string) float64 {
	length, width, across := parse(row["patch_length_m"]), parse(row["patch_width_m"]), parse(row["patch_diameter_m"])
	switch area := parse(row["patch_area_m2"]); {
	case !math.IsNaN(area):
		return area
	case !math.IsNaN(length) && !math.IsNaN(width):
		return length * width
	}
	return math.Pi / 4 * across * across
}

// coverOf returns the recorded cover, else the middle of its class (Daubenmire 1959).
func coverOf(row map[string]string) float64 {
	if middle, is := map[string]float64{"1": 2.5, "2": 15, "3": 37.5, "4": 62.5, "5": 85, "6": 97.5}[row["canopy_cover_class"]]; is && row["canopy_cover_percent"] == "" {
		return middle
	}
	return parse(row["canopy_cover_percent"])
}

// holdZone checks one row per stream name, with the number of lines of that name.
func holdZone(b *book, rows []record) {
	lines, stands := b.by("network", "waterBody"), b.by("stands", "waterBody")
	for _, r := range rows {
		water := r.text("waterBody")
		// a line is cut at shores, and its part on a lake counts there too
		n := float64(len(texts(lines[water], "stream_id")))
		if lake := b.features("water", "waterBody")[water]; lake != nil {
			r.must(r.number("lines") >= n, "%v lines, %v bear its name", r.number("lines"), n)
		} else {
			r.near("lines", n, 0)
		}
		r.near("setback_m", b.settings.Aquatic.Setback, 0)
		r.must(slices.Contains(r.list("assumed"), "aquatic.setback_m"), "the default setback is not told: %v", r.list("assumed"))
		// both banks: a strip of setback width on either side, with its ends
		km := total(lines[water], "length_km")
		least := 2 * b.settings.Aquatic.Setback * km * 1000 * 0.7 / 4046.8564224 // strips overlap inside bends
		r.must(r.number("zone_acres") > least && r.number("zone_acres") > total(stands[water], "zone_acres")*0.999, "%v acres along %v km, of stands %v", r.number("zone_acres"), km, total(stands[water], "zone_acres"))
		r.ofQuarter("Aquatic zone", water)
	}
	names := map[string]bool{}
	for water := range lines {
		names[water] = true
	}
	rows[0].must(len(rows) == len(names), "%d zones of %d names", len(rows), len(names))
}

// classes lists the exposure classes, lowest first.
var classes = []string{"possible", "low", "moderate", "high"}

// holdReaches checks each piece against its line, its length and its class, and all pieces against
// the summary.
func holdReaches(b *book, rows []record) {
	sums := map[string]float64{}
	for _, r := range rows {
		line, there := b.one("network", "stream_id", r.text("stream_id"))
		r.must(there, "no line %q", r.text("stream_id"))
		r.same("waterBody", line.text("waterBody"))
		r.near("length_km", r.number("from_km")-r.number("to_km"), 2*kmStep)
		r.within(0, line.number("river_km")+line.number("length_km")+kmStep, "from_km", "to_km")
		class, stage := r.text("exposure_class"), r.text("stage")
		r.must(slices.Contains(classes, class) && (stage == "base" || stage == "flood"), "class %q, stage %q", class, stage)
		breaks, most := b.settings.Drift.ExposureBreaks, r.number("exposure")
		switch class {
		case "high":
			r.must(most >= breaks[1]-indexStep, "high at %v", most)
		case "moderate":
			r.must(most >= breaks[0]-indexStep && most <= breaks[1]+indexStep, "moderate at %v", most)
		case "low":
			r.must(most > 0 && most <= breaks[0]+indexStep, "low at %v", most)
		}
		r.rising("hours_afloat_fast", "hours_afloat_mean")
		nearest := r.text("nearest_stand_id")
		_, known := b.one("stands", "stand_id", nearest)
		r.must(known == (nearest != "") && (nearest == "" || r.number("stands") > 0), "nearest %q of %v stands", nearest, r.number("stands"))
		r.must(math.IsNaN(r.number("hours_afloat_fast")) == (nearest == ""), "%v hours from %q", r.number("hours_afloat_fast"), nearest)
		r.must(strings.Contains(r.text("velocity_from"), ": "), "velocity from %q", r.text("velocity_from"))
		r.must(slices.Contains([]string{"", "dam", "reservoir", "weir", "culvert"}, r.text("barrier")), "barrier %q", r.text("barrier"))
		units := r.list("units")
		r.must(r.text("unit_id") == "" || slices.Contains(units, r.text("unit_id")), "unit %q of %v", r.text("unit_id"), units)
		r.ofQuarter(r.text("waterBody"), "km ")
		if class != "possible" {
			sums[stage] += r.number("length_km")
			sums[stage+r.text("waterBody")] += r.number("length_km")
		}
	}
	off := float64(len(rows)) * kmStep
	for _, s := range b.tables["summary"] {
		if scope := s.text("scope"); scope == "total" || scope == "waterBody" {
			name := s.text("name")
			s.near("reach_at_risk_km", sums["base"+name], off)
			s.near("flood_reach_at_risk_km", sums["flood"+name], off)
		}
	}
}

// holdNetwork checks lengths against the input lines, and the upstream totals.
func holdNetwork(b *book, rows []record) {
	lines := b.lines()
	handedIn := b.features("streams", "stream_id")
	outlets, all := 0.0, 0.0
	for _, r := range rows {
		id := r.text("stream_id")
		if p := handedIn[id]; p != nil {
			name, _ := p["waterBody"].(string)
			r.must(name == "" || name == r.text("waterBody"), "called %q, handed in as %q", r.text("waterBody"), name)
			if length := lengthOf(lines[id]) / 1000; len(r.b.by("network", "stream_id")[id]) > 1 {
				pieces := r.b.by("network", "stream_id")[id] // cut at shores
				r.must(math.Abs(total(pieces, "length_km")-length) < kmStep*float64(len(pieces)), "%v km in pieces, %v in all", total(pieces, "length_km"), length)
			} else {
				r.near("length_km", length, kmStep)
			}
		} else {
			r.must(false, "line %q was not handed in", id)
		}
		r.rising("length_km", "upstream_km")
		r.rising("stream_order", "order_used")
		r.within(1, 9, "stream_order", "order_used")
		r.within(0, 0, "component")
		r.must(r.flag("minor_path") == (r.number("flow_share_percent") < 50), "a minor path %v with %v %% of the flow", r.flag("minor_path"), r.number("flow_share_percent"))
		r.within(0.1, 100, "flow_share_percent")
		r.within(0, 1000, "river_km", "drainage_km2")
		r.text("found")
		r.must(strings.Contains(r.text("name"), r.text("waterBody")), "name %q", r.text("name"))
		all += r.number("length_km")
		if r.number("river_km") == 0 {
			outlets += r.number("upstream_km")
		}
	}
	rows[0].must(math.Abs(outlets-all) < float64(len(rows))*kmStep, "%v km above the outlets, %v in all", outlets, all)
}

func lengthOf(line orb.LineString) (sum float64) {
	for i := range line[1:] {
		sum += apart(line[i], line[i+1])
	}
	return sum
}

// lines returns the input streams by id.
func (b *book) lines() map[string]orb.LineString {
	var layer struct {
		Features []struct {
			Properties struct {
				ID string `json:"stream_id"`
			}
			Geometry struct{ Coordinates orb.LineString }
		}
	}
	if err := json.Unmarshal(b.inputs["streams"], &layer); err != nil {
		b.Fatal(err)
	}
	out := map[string]orb.LineString{}
	for _, f := range layer.Features {
		out[f.Properties.ID] = f.Geometry.Coordinates
	}
	return out
}

// holdLinks checks which stand can seed which: stands of this quarter, never the stand itself,
// never one before it in the order, and on one stream never one upstream of it.
func holdLinks(b *book, rows []record) {
	for _, r := range rows {
		from, one := b.one("stands", "stand_id", r.text("from_stand_id"))
		to, other := b.one("stands", "stand_id", r.text("to_stand_id"))
		r.must(one && other && r.text("from_stand_id") != r.text("to_stand_id"), "from %q to %q", r.text("from_stand_id"), r.text("to_stand_id"))
		if one && other {
			r.must(from.number("treat_order") <= to.number("treat_order"), "order %v reaches %v", from.number("treat_order"), to.number("treat_order"))
			if from.text("waterBody") == to.text("waterBody") {
				r.must(from.number("river_km") >= to.number("river_km")-1, "km %v reaches %v", from.number("river_km"), to.number("river_km"))
			}
			r.must(from.number("released") > 0, "nothing is released")
		}
		r.within(0, 1, "share")
		r.within(0, 24*365, "hours_fast")
	}
}

// holdFindings checks findings: on input files, with texts from the dictionary.
func holdFindings(b *book, rows []record) {
	for _, r := range rows {
		r.must(slices.Contains([]string{"error", "warning", "note"}, r.text("severity")), "severity %q", r.text("severity"))
		r.must(r.text("code") != "" && r.text("message") != "" && r.text("remedy") != "", "code %q, message %q, remedy %q", r.text("code"), r.text("message"), r.text("remedy"))
		if strings.HasPrefix(r.text("file"), "points-") {
			i := slices.IndexFunc(b.input("points"), func(row map[string]string) bool { return row["occurrenceID"] == r.text("record") })
			r.must(i >= 0, "record %q was not handed in", r.text("record"))
			if i >= 0 && r.text("value") != "" {
				r.must(b.input("points")[i][r.text("field")] == r.text("value"), "%s was handed in as %q, told as %q", r.text("field"), b.input("points")[i][r.text("field")], r.text("value"))
			}
		}
		r.must(r.text("name") == r.text("code")+", "+r.text("record"), "name %q", r.text("name"))
	}
}
