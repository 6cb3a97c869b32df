package result_test

import (
	"encoding/json"
	"math"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/paulmach/orb"

	"driftreach/internal/testkit"
)

// Printed acres have some digits, kilometres a tenth of a metre, fragments a millionth: a sum of n
// figures may be off by n halves of the last digit.
const (
	acreStep  = 1e-6
	kmStep    = 1e-4
	indexStep = 1e-6
)

var standID = regexp.MustCompile(`^\d{4}Q[1-4]-\d{4}$`)

// holdStands checks the stands against the input points, their outlines, the other tables and the
// previous quarter.
func holdStands(b *book, rows []record) {
	points, seen := b.by("points", "stand_id"), map[string]bool{}
	for _, r := range rows {
		id := r.text("stand_id")
		r.must(standID.MatchString(id) && !seen[id] && id[:6] <= b.quarter, "identity %q", id)
		seen[id] = true
		r.same("quarter", b.quarter)
		r.near("treat_order", float64(r.at+1), 0)
		r.named(orElse(r.text("first_detected"), b.from.Format(time.DateOnly)), orElse(r.text("last_detected"), b.to.Format(time.DateOnly)), id)
		holdPointsOfStand(r, points[id])
		holdGround(r)
		holdHistory(r)
		holdFragments(r)
		holdSteps(r)
	}
}

func orElse(text, other string) string {
	if text == "" {
		return other
	}
	return text
}

// rank orders the statuses: of several, a stand has the one that needs most work.
var rank = []string{"untreated", "resprout", "treated", "standing_dead"}

// holdPointsOfStand checks the figures of a stand that come from its points.
func holdPointsOfStand(r record, points []record) {
	r.near("points", float64(len(points)), 0)
	var first, last string
	status, tallest := len(rank), math.NaN()
	inZone, uncertain, noArea, noCover := false, false, false, false
	for _, p := range points {
		day := p.text("eventDate")
		if begin, end, _ := strings.Cut(day, "/"); day != "" {
			first, last = min(orElse(first, begin), begin), max(last, begin, end)
		}
		status = min(status, slices.Index(rank, p.text("management_status")))
		tallest = fmax(tallest, p.number("stem_height_m"))
		inZone = inZone || p.flag("aquatic_zone")
		uncertain = uncertain || p.number("coordinateUncertaintyInMeters") > r.b.run.Setback
		noArea = noArea || p.text("patch_area_m2")+p.text("patch_outline") == ""
		noCover = noCover || p.text("canopy_cover_percent") == "" && p.text("management_status") != "standing_dead"
	}
	r.same("first_detected", first)
	r.same("last_detected", last)
	r.same("management_status", rank[status])
	r.near("stem_height_m", tallest, 0.005)
	r.must(r.flag("aquatic_zone") == inZone, "in the zone %v, its points %v", r.flag("aquatic_zone"), inZone)
	r.must(r.flag("zone_uncertain") == uncertain, "uncertain %v, its points %v", r.flag("zone_uncertain"), uncertain)
	assumed := r.list("assumed")
	for setting, is := range map[string]bool{"stands.default_patch_acres": noArea, "stands.default_cover_percent": noCover} {
		r.must(slices.Contains(assumed, setting) == is, "assumed %v, its points lack what %s stands in for: %v", assumed, setting, is)
	}
	// a default patch may lie under other patches and then adds no area
	r.must(noArea || r.number("assumed_acres") == 0, "%v acres assumed, points without an area: %v", r.number("assumed_acres"), noArea)
	r.must(r.flag("isolated") == !hasCore(r, points), "isolated %v of %d points", r.flag("isolated"), len(points))
}

func fmax(a, b float64) float64 {
	if math.IsNaN(a) || b > a {
		return b
	}
	return a
}

// hasCore says whether one of the points is a core: it has enough points around it, itself
// included. Points are counted pair by pair, in metres at the middle latitude.
func hasCore(r record, points []record) bool {
	var at []orb.Point
	for _, p := range points {
		at = append(at, r.b.places()[p.text("occurrenceID")])
	}
	for _, p := range at {
		n := 0
		for _, q := range at {
			if apart(p, q) <= r.b.settings.Stands.JoinDistance {
				n++
			}
		}
		if n >= r.b.settings.Stands.MinPoints {
			return true
		}
	}
	return false
}

// places returns the positions of all records up to this quarter, from the input files.
func (b *book) places() map[string]orb.Point {
	if b.handedIn == nil {
		b.handedIn = map[string]orb.Point{}
		for s := b.step; s != nil; s = s.before {
			for _, row := range inputTable(b.T, s.inputs["points"]) {
				b.handedIn[row["occurrenceID"]] = orb.Point{parse(row["decimalLongitude"]), parse(row["decimalLatitude"])}
			}
		}
	}
	return b.handedIn
}

// radii returns metres for a degree of longitude and one of latitude, on the ellipsoid of WGS
// 84 (a 6378137 m, 1/f 298.257223563; Snyder 1987, Map Projections, equations 4-18 and 4-20).
func radii(latitude float64) (lon, lat float64) {
	const a, f = 6378137, 1 / 298.257223563
	e2, sin := f*(2-f), math.Sin(latitude*math.Pi/180)
	w := 1 - e2*sin*sin
	return a / math.Sqrt(w) * math.Cos(latitude*math.Pi/180) * math.Pi / 180, a * (1 - e2) / (w * math.Sqrt(w)) * math.Pi / 180
}

func apart(p, q orb.Point) float64 {
	lon, lat := radii((p[1] + q[1]) / 2)
	return math.Hypot(lon*(p[0]-q[0]), lat*(p[1]-q[1]))
}

// acres returns the area of outlines with sides straight in degrees. Each side adds the area
// between it and a parallel: the area from the equator to a latitude, per radian of longitude
// (Snyder 1987, equation 3-12), as the mean of its values at the two ends. An acre is 4046.8564224
// m2.
func acres(of orb.MultiPolygon) (sum float64) {
	const a, f = 6378137, 1 / 298.257223563
	e := math.Sqrt(f * (2 - f))
	toEquator := func(latitude float64) float64 {
		es := e * math.Sin(latitude*math.Pi/180)
		return a * a * (1 - e*e) / 2 * (es/e/(1-es*es) + math.Log((1+es)/(1-es))/(2*e))
	}
	for _, polygon := range of {
		parallel := toEquator(polygon[0][0][1])
		for _, ring := range polygon {
			for i := range len(ring) - 1 {
				p, q := ring[i], ring[i+1]
				sum -= (q[0] - p[0]) * math.Pi / 180 * ((toEquator(p[1])+toEquator(q[1]))/2 - parallel)
			}
		}
	}
	return sum / 4046.8564224
}

// holdGround checks acres against the outline in the map layer, and against each other.
func holdGround(r record) {
	infested, gross, canopy, cover := r.number("infested_acres"), r.number("gross_acres"), r.number("canopy_acres"), r.number("canopy_cover_percent")
	outline := r.b.run.Stands[r.at].Footprint.Polygons()
	r.near("infested_acres", acres(outline), 2*acreStep+1e-6*infested)
	at := orb.Point{r.number("decimalLongitude"), r.number("decimalLatitude")}
	r.must(testkit.Within(outline, at), "the place to go to, %v, lies beside the stand", at)
	r.must(gross >= infested && infested > 0, "gross %v, infested %v acres", gross, infested)
	r.within(0, 100, "canopy_cover_percent")
	r.must(math.Abs(canopy-infested*cover/100) <= infested*0.0005+acreStep, "canopy %v acres of %v at %v %%", canopy, infested, cover)
	for _, of := range []string{"gross", "infested", "canopy"} {
		r.rising(of+"_acres_p10", of+"_acres", of+"_acres_p90")
		r.within(0, 1000, of+"_acres_p10")
	}
	r.rising("assumed_acres", "infested_acres")
	r.rising("assumed_canopy_acres", "canopy_acres")
	r.within(0, infested, "zone_acres", "assumed_acres", "assumed_canopy_acres")

	water, zone := r.number("water_distance_m"), r.flag("aquatic_zone")
	if math.Abs(water-r.b.run.Setback) > 0.02 { // one last digit of the distance, and the centimetre to which the zone is drawn
		r.must(zone == (water < r.b.run.Setback), "%v m to the bank, in the zone %v", water, zone)
	}
	r.must(water >= 0 && (zone || r.number("zone_acres") == 0), "%v m from the bank, %v acres in the zone", water, r.number("zone_acres"))
	line, there := r.b.one("network", "stream_id", r.text("stream_id"))
	r.must(there, "no stream line %q", r.text("stream_id"))
	if there {
		r.same("waterBody", line.text("waterBody"))
		top, foot := 0.0, math.Inf(1)
		for _, piece := range r.b.by("network", "stream_id")[r.text("stream_id")] {
			top, foot = max(top, piece.number("river_km")+piece.number("length_km")), min(foot, piece.number("river_km"))
		}
		r.within(foot-kmStep, top+kmStep, "river_km")
	}
}

// holdHistory checks against the stands of the previous quarter and the lineage table.
func holdHistory(r record) {
	carried, from := r.flag("carried"), r.text("carried_from")
	r.must(carried == (from != "") && (from == "" || from < r.b.quarter), "carried %v from %q", carried, from)
	before := r.b.earlier()
	if before == nil {
		r.must(r.text("change")+r.text("previous_acres")+r.text("carried_acres")+r.text("previous_ids") == "" && !carried, "has a history in the first batch")
		return
	}
	sum := 0.0
	for _, id := range r.list("previous_ids") {
		if was, there := before.one("stands", "stand_id", id); there {
			sum += was.number("infested_acres")
		} else if was, there := before.one("absent", "stand_id", id); !there {
			r.must(false, "continues %s, which was not there", id)
		} else {
			r.must(was.number("infested_acres") > 0, "continues %s, which had nothing", id)
		}
	}
	r.near("previous_acres", sum, acreStep*(1+float64(len(r.list("previous_ids")))))
	r.rising("carried_acres", "infested_acres")
	now, change := r.number("infested_acres"), r.text("change")
	switch change {
	case "new", "first looked at":
		r.must(len(r.list("previous_ids")) == 0 && r.text("stand_id")[:6] == r.b.quarter, "%s, and continues %v", change, r.list("previous_ids"))
	case "not resurveyed":
		r.must(carried && r.number("carried_acres") == now && math.Abs(now-sum) < 2*acreStep, "%s, of %v acres %v carried, %v before", change, now, r.number("carried_acres"), sum)
	case "grown", "shrunk":
		r.must((now > sum) == (change == "grown"), "%s from %v to %v acres", change, sum, now)
	case "merged", "merged and split":
		r.must(len(r.list("previous_ids")) > 1, "%s of %v", change, r.list("previous_ids"))
	case "kept", "split", "found again", "partly resurveyed", "partly not detected":
		r.must(len(r.list("previous_ids")) == 1 && !carried, "%s of %v", change, r.list("previous_ids"))
	default:
		r.must(false, "change %q", change)
	}
}

// holdFragments checks the amount released against the canopy in the zone, and what becomes of it.
func holdFragments(r record) {
	r.rising("reach_alone_km", "reach_km", "reach_possible_km")
	r.rising("reach_km_p10", "reach_km_p50", "reach_km_p90")
	r.rising("exposure_p10", "exposure_p50", "exposure_p90")
	r.rising("reach_km", "flood_reach_km")
	released := r.number("released")
	for _, f := range []string{"released", "reach_alone_km", "exposure", "held_at_barriers", "lost_to_age", "left_at_outlets", "reach_km_p10", "exposure_p10"} {
		r.within(0, math.Inf(1), f)
	}
	r.must(released >= r.sum("held_at_barriers", "lost_to_age", "left_at_outlets"), "of %v released more is lost", released)
	r.must((released > 0) == (r.number("exposure") > 0), "released %v, exposure %v", released, r.number("exposure"))
	r.must(released == 0 || r.flag("aquatic_zone"), "releases %v outside the zone", released)
	// each patch that touches the zone counts by its own canopy; a treated or dead patch by a share
	// of it
	want, off, set := 0.0, indexStep, r.b.settings
	for _, p := range r.b.by("points", "stand_id")[r.text("stand_id")] {
		if !p.flag("aquatic_zone") {
			continue
		}
		area, cover := p.number("patch_area_m2")/4046.8564224, p.number("canopy_cover_percent")
		if math.IsNaN(area) {
			area = set.Stands.DefaultPatch
		}
		if math.IsNaN(cover) {
			cover = set.Stands.DefaultCover
		}
		of := area * cover / 100 * set.Drift.FragmentsPerAcre
		if status := p.text("management_status"); status == "treated" || status == "standing_dead" {
			of *= set.Drift.TreatedRelease
		}
		want, off = want+of, off+0.005/4046+area*0.0005
	}
	r.near("released", want, off)
}

// holdSteps checks the next step against the list of visits and the plan.
func holdSteps(r record) {
	visit, there := r.b.one("followup", "stand_id", r.text("stand_id"))
	r.must(there, "no follow-up")
	if there {
		next := visit.text("due")
		if look := visit.text("look_again"); look != "" && (next == "" || look < next) {
			next = look
		}
		r.same("next_visit", next)
		r.same("follow_up", visit.text("what"))
	}
	wet := slices.ContainsFunc(r.list("requirements"), func(s string) bool { return strings.Contains(s, "labelled for aquatic use") })
	r.must(wet == r.flag("aquatic_zone"), "in the zone %v: %v", r.flag("aquatic_zone"), r.list("requirements"))
	// Triana et al. 2015: 1100 mm in a season, 3.6 acre-feet per acre; 48 is the upper bound used in
	// the trade
	wetCanopy := r.number("zone_acres") * r.number("canopy_cover_percent") / 100
	off := 3.6*0.0005*r.number("zone_acres") + 0.001
	r.near("water_use_low_acft", 3.6*wetCanopy, off)
	r.near("water_use_high_acft", 48*wetCanopy, 48./3.6*off)
	var first record
	for _, p := range r.b.by("plan", "stand_id")[r.text("stand_id")] {
		if first.cells == nil {
			first = p
		}
	}
	if first.cells != nil {
		r.same("plan_quarter", first.text("plan_quarter"))
		r.same("plan_work", first.text("work")+", place "+first.text("place"))
	} else {
		r.must(r.text("plan_quarter")+r.text("plan_work") == "", "is planned, and not in the plan")
	}
}

// holdStandUnits checks that a stand's shares add up to it, digit by digit, and that its units
// match them.
func holdStandUnits(b *book, rows []record) {
	names := map[string]string{}
	for id, p := range b.features("units", "unit_id") {
		names[id], _ = p["unit_name"].(string)
	}
	of := b.by("stand_units", "stand_id")
	for _, s := range b.tables["stands"] {
		shares := of[s.text("stand_id")]
		for _, f := range []string{"gross_acres", "infested_acres", "canopy_acres", "zone_acres"} {
			s.must(math.Abs(total(shares, f)-s.number(f)) < 1e-9, "the shares of %s add up to %v, and it is %v", f, total(shares, f), s.number(f))
		}
		s.must(slices.Equal(texts(shares, "unit_id"), s.list("units")), "units %v, shares of %v", s.list("units"), texts(shares, "unit_id"))
		most := slices.MaxFunc(shares, func(a, b record) int { return int(1e9 * (a.number("infested_acres") - b.number("infested_acres"))) })
		s.same("unit_id", most.text("unit_id"))
	}
	for _, r := range rows {
		_, there := b.one("stands", "stand_id", r.text("stand_id"))
		r.must(there, "no stand %q", r.text("stand_id"))
		r.same("unit_name", names[r.text("unit_id")])
		r.rising("zone_acres", "infested_acres", "gross_acres")
	}
}

// features returns the properties of an input's features, keyed by one of them.
func (b *book) features(role, by string) map[string]map[string]any {
	if known := b.layers[role]; known != nil {
		return known
	}
	var layer struct {
		Features []struct{ Properties map[string]any }
	}
	if err := json.Unmarshal(b.inputs[role], &layer); err != nil {
		b.Fatal(err)
	}
	out := map[string]map[string]any{}
	b.layers[role] = out
	for _, f := range layer.Features {
		if id, is := f.Properties[by].(string); is {
			out[id] = f.Properties
		}
	}
	return out
}
