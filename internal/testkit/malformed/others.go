package malformed

import (
	"fmt"
	"strings"
)

// collection returns a GeoJSON text with the features.
func collection(features ...string) string {
	return `{"type":"FeatureCollection","features":[` + strings.Join(features, ",") + `]}`
}

func featureOf(properties, kind, coordinates string) string {
	return `{"type":"Feature","properties":{` + properties + `},"geometry":{"type":"` + kind + `","coordinates":` + coordinates + `}}`
}

// boxAt is the ring of a rectangle.
func boxAt(west, south, east, north float64) string {
	return fmt.Sprintf("[[%g,%g],[%g,%g],[%g,%g],[%g,%g],[%g,%g]]", west, south, east, south, east, north, west, north, west, south)
}

// weave is a ring that runs back and forth n times, an even number, and then as often at right angles
// to that: it has n squared crossings.
func weave(n int) string {
	var ring []string
	to := func(x, y int) { ring = append(ring, fmt.Sprintf("[%g,%g]", 5+float64(x)/10, 5+float64(y)/10)) }
	for k := 1; k <= n; k += 2 {
		to(0, k)
		to(n+1, k)
		to(n+1, k+1)
		to(0, k+1)
	}
	to(0, n+1)
	for k := 1; k <= n; k += 2 {
		to(k, n+1)
		to(k, 0)
		to(k+1, 0)
		to(k+1, n+1)
	}
	to(n, n+2)
	to(-1, n+2)
	to(-1, 1)
	to(0, 1)
	return "[" + strings.Join(ring, ",") + "]"
}

// each returns of(i) for the first n numbers.
func each(n int, of func(i int) string) []string {
	all := make([]string, n)
	for i := range all {
		all[i] = of(i)
	}
	return all
}

func unitCases() []Case {
	var all []Case
	good := featureOf(`"unit_id":"a"`, "Polygon", "["+boxAt(1, 2, 3, 4)+"]")
	add := func(name string, features ...string) {
		all = append(all, Case{Name: "units, " + name, Ending: ".geojson", Bytes: []byte(collection(append(features, good)...)), Role: "units"})
	}
	one := func(name, kind, coordinates string) { add(name, featureOf(`"unit_id":"b"`, kind, coordinates)) }
	one("a point", "Point", "[1,2]")
	one("a line", "LineString", "[[1,2],[3,4]]")
	one("no ring", "Polygon", "[]")
	one("a ring of nothing", "Polygon", "[[]]")
	one("a ring of two corners", "Polygon", "[[[5,2],[6,4],[5,2]]]")
	one("a ring of one place", "Polygon", "[[[5,2],[5,2],[5,2],[5,2]]]")
	one("a ring that goes out and back", "Polygon", "[[[5,2],[6,2],[7,2],[6,2],[5,2]]]")
	one("a ring never closed", "Polygon", "[[[5,2],[6,2],[6,3]]]")
	one("a bow", "Polygon", "[[[5,2],[6,3],[6,2],[5,3],[5,2]]]")
	one("a spike", "Polygon", "[[[5,2],[6,2],[6,9],[6,2],[6,3],[5,3],[5,2]]]")
	one("a ring twice over", "Polygon", "[[[5,2],[6,2],[6,3],[5,3],[5,2],[6,2],[6,3],[5,3],[5,2]]]")
	one("a hole outside", "Polygon", "["+boxAt(5, 2, 6, 3)+","+boxAt(7, 2, 8, 3)+"]")
	one("a hole larger than the ring", "Polygon", "["+boxAt(5, 2, 6, 3)+","+boxAt(4, 1, 7, 4)+"]")
	one("a hole that is the ring", "Polygon", "["+boxAt(5, 2, 6, 3)+","+boxAt(5, 2, 6, 3)+"]")
	one("parts that overlap", "MultiPolygon", "[["+boxAt(5, 2, 6, 3)+"],["+boxAt(5.5, 2, 7, 3)+"]]")
	one("a corner that is no number", "Polygon", "[[[5,2],[6,NaN],[6,3],[5,2]]]")
	one("a corner of 1e308", "Polygon", "[[[5,2],[1e308,2],[6,3],[5,2]]]")
	one("a corner at 0, 0", "Polygon", "[[[0,0],[6,2],[6,3],[0,0]]]")
	one("the whole world", "Polygon", "["+boxAt(-180, -90, 180, 90)+"]")
	one("across the antimeridian", "Polygon", "[[[179,2],[-179,2],[-179,3],[179,3],[179,2]]]")
	one("a weave of 196 crossings", "Polygon", "["+weave(14)+"]")
	one("a hundred thousand rings of nothing", "Polygon", "["+strings.Repeat("[],", 100_000)+"[]]")
	one("three hundred parts in one place", "MultiPolygon", "["+strings.Repeat("["+boxAt(5, 2, 6, 3)+"],", 300)+"["+boxAt(5, 2, 6, 3)+"]]")
	same := func(id string) func(int) string {
		return func(i int) string {
			return featureOf(fmt.Sprintf(`"unit_id":"%s","unit_name":"%d"`, strings.ReplaceAll(id, "#", fmt.Sprint(i)), i), "Polygon", "["+boxAt(5, 2, 6, 3)+"]")
		}
	}
	add("two thousand on one ground", each(2000, same("u#"))...)
	add("a thousand on one ground and of one id", each(1000, same("u"))...)
	add("forty thousand of one id", each(40_000, func(i int) string {
		x := float64(i%200) / 10
		y := float64(i/200) / 10
		return featureOf(fmt.Sprintf(`"unit_id":"u","unit_name":"%d"`, i), "Polygon", "["+boxAt(5+x, 5+y, 5.1+x, 5.1+y)+"]")
	})...)
	add("three thousand parts of one", each(3000, func(i int) string {
		return featureOf(`"unit_id":"u"`, "Polygon", "["+boxAt(5+float64(i)/100, 5, 5.02+float64(i)/100, 6)+"]")
	})...)
	return all
}

func surveyedCases() []Case {
	var all []Case
	add := func(name, ending, text string) {
		all = append(all, Case{Name: "surveyed, " + name, Ending: ending, Bytes: []byte(text), Role: "surveyed"})
	}
	gpx := func(text string) string { return `<gpx version="1.1">` + text + "</gpx>" }
	add("waypoints alone", ".gpx", gpx(`<wpt lat="1" lon="2"/>`))
	add("a track of nothing", ".gpx", gpx(`<trk/><trk><trkseg/></trk>`))
	add("a track of one position", ".gpx", gpx(`<trk><trkseg><trkpt lat="1" lon="2"/></trkseg></trk>`))
	add("a track that stands still", ".gpx", gpx(`<trk><trkseg>`+strings.Repeat(`<trkpt lat="1" lon="2"/>`, 100)+`</trkseg></trk>`))
	add("a track of times that are none", ".gpx", gpx(`<trk><trkseg><trkpt lat="1" lon="2"><time>now</time></trkpt><trkpt lat="1" lon="3"><time>-1</time></trkpt></trkseg></trk>`))
	add("a track of years far off", ".gpx", gpx(`<trk><trkseg><trkpt lat="1" lon="2"><time>0001-01-01T00:00:00Z</time></trkpt><trkpt lat="1" lon="3"><time>9999-12-31T23:59:59Z</time></trkpt></trkseg></trk>`))
	add("a hundred thousand tracks", ".gpx", gpx(strings.Repeat(`<trk><trkseg><trkpt lat="1" lon="2"/><trkpt lat="1" lon="3"/></trkseg></trk>`, 100_000)))
	one := func(name, properties, kind, coordinates string) {
		add(name, ".geojson", collection(featureOf(properties, kind, coordinates), featureOf("", "LineString", "[[1,2],[3,4]]")))
	}
	one("a line of one position", "", "LineString", "[[1,2]]")
	one("a line in one place", "", "LineString", "[[1,2],[1,2]]")
	one("a line that is no number", "", "LineString", "[[1,2],[NaN,3]]")
	one("a line through 0, 0", "", "LineString", "[[1,2],[0,0]]")
	one("a line in metres", "", "LineString", "[[500000,2],[500010,4]]")
	one("an area of no size", "", "Polygon", "[[[5,2],[6,2],[7,2],[5,2]]]")
	one("a loop that crosses itself 196 times", "", "Polygon", "["+weave(14)+"]")
	one("days that run backwards", `"start_date":"2026-08-01","end_date":"2026-07-01"`, "LineString", "[[1,2],[3,5]]")
	one("a day that is none", `"eventDate":"2026-07-32"`, "LineString", "[[1,2],[3,5]]")
	one("a day as an object", `"eventDate":{"day":1}`, "LineString", "[[1,2],[3,5]]")
	add("no lines", ".csv", "start_date\n2026-07-01\n")
	add("a line never closed", ".csv", "WKT\n\"LINESTRING(1 2,3 4\"\n")
	return all
}

// tablesOf returns functions that add a table of a role to all. add adds a text as it is; row adds one
// with a row between the header and a good row.
func tablesOf(all *[]Case, role, header, good string) (add, row func(name, text string)) {
	add = func(name, text string) {
		*all = append(*all, Case{Name: role + ", " + name, Ending: ".csv", Bytes: []byte(text), Role: role})
	}
	return add, func(name, text string) { add(name, header+text+"\n"+good+"\n") }
}

func treatmentCases() []Case {
	var all []Case
	const header = "date,stand_id,lon,lat,method,formulation_class,treated_acres\n"
	add, row := tablesOf(&all, "treatments", header, "2026-07-01,s,1,2,hand pull,none,1")
	add("a header only", header)
	add("no place", "date,method\n2026-07-01,mowing\n")
	row("no date", ",s,1,2,hand pull,none,1")
	row("a date that is none", "2026-02-30,s,1,2,hand pull,none,1")
	row("a date of a megabyte", strings.Repeat("2026-", 200_000)+",s,1,2,hand pull,none,1")
	row("a day to come", "2999-01-01,s,1,2,hand pull,none,1")
	row("neither stand nor place", "2026-07-01,,,,hand pull,none,1")
	row("half a place", "2026-07-01,,1,,hand pull,none,1")
	row("a place that is no number", "2026-07-01,,NaN,2,hand pull,none,1")
	row("a place in metres", "2026-07-01,,500000,4000000,hand pull,none,1")
	row("a place at 0, 0", "2026-07-01,,0,0,hand pull,none,1")
	row("a stand of 10 MB", "2026-07-01,"+strings.Repeat("s", 10<<20)+",1,2,hand pull,none,1")
	row("acres below nothing", "2026-07-01,s,1,2,hand pull,none,-1")
	row("acres without end", "2026-07-01,s,1,2,hand pull,none,1e999")
	row("words that are none", "2026-07-01,s,1,2,goats,hunger,1")
	row("a formula in every cell", "=1,=cmd|' /C calc'!A0,=2,=3,=4,=5,=6")
	add("a hundred thousand copies", header+strings.Repeat("2026-07-01,s,1,2,hand pull,none,1\n", 100_000))
	add("a hundred thousand methods", header+strings.Join(each(100_000, func(i int) string { return fmt.Sprintf("2026-07-01,s,1,2,m%d,none,1\n", i) }), ""))
	all = append(all, Case{Name: "treatments, a line", Ending: ".geojson", Role: "treatments",
		Bytes: []byte(collection(featureOf(`"date":"2026-07-01","stand_id":"s"`, "LineString", "[[1,2],[3,4]]")))})
	return all
}

func correctionCases() []Case {
	var all []Case
	const header = "date,correction,occurrenceID,stand_id,other_stand_id,reason\n"
	add, row := tablesOf(&all, "corrections", header, "2026-07-01,misidentified,r,,,a grass")
	add("a header only", header)
	add("no subject", "date,correction\n2026-07-01,misidentified\n")
	row("no date", ",misidentified,q,,,")
	row("a date that is none", "2026-02-30,misidentified,q,,,")
	row("a day to come", "2999-01-01,misidentified,q,,,")
	row("a kind that is none", "2026-07-01,eaten by goats,q,,,")
	row("a kind of a megabyte", "2026-07-01,"+strings.Repeat("same", 250_000)+",q,,,")
	row("neither record nor stand", "2026-07-01,absence was wrong,,,,")
	row("one stand of two", "2026-07-01,same stand as,,s,,")
	row("a stand and itself", "2026-07-01,not the same stand,,s,s,")
	row("both ways on one day", "2026-07-01,same stand as,,s,t,\n2026-07-01,not the same stand,,t,s,")
	row("a stand of 10 MB", "2026-07-01,misidentified,,"+strings.Repeat("s", 10<<20)+",,")
	row("a formula in every cell", "=1,=cmd|' /C calc'!A0,=2,=3,=4,=5")
	row("bytes that are no text", "2026-07-01,misidentified,\xff\xfe\x00,,,")
	add("a hundred thousand copies", header+strings.Repeat("2026-07-01,misidentified,r,,,\n", 100_000))
	add("a hundred thousand of one stand", header+strings.Join(each(100_000, func(i int) string { return fmt.Sprintf("2026-07-01,same stand as,r%d,s,,\n", i) }), ""))
	all = append(all, Case{Name: "corrections, a place", Ending: ".geojson", Role: "corrections",
		Bytes: []byte(collection(featureOf(`"date":"2026-07-01","correction":"look-alike","occurrenceID":"r"`, "Point", "[1,2]")))})
	return all
}

func barrierCases() []Case {
	var all []Case
	const header = "barrier_id,kind,barrier_pass,lon,lat\n"
	add, row := tablesOf(&all, "barriers", header, "a,dam,0.5,1,2")
	add("a header only", header)
	add("no place", "barrier_id,kind\na,dam\n")
	row("no kind", "b,,0.5,1,3")
	row("a kind that is none", "b,beaver,0.5,1,3")
	row("a pass of two", "b,dam,2,1,3")
	row("a pass that is no number", "b,dam,NaN,1,3")
	row("a pass in words", "b,dam,most,1,3")
	row("no position", "b,dam,0.5,,")
	row("a position that is no number", "b,dam,0.5,Inf,3")
	row("a position in metres", "b,dam,0.5,500000,4000000")
	row("a position at 0, 0", "b,dam,0.5,0,0")
	row("an id of 10 MB", strings.Repeat("b", 10<<20)+",dam,0.5,1,3")
	add("a hundred thousand of one id", header+strings.Join(each(100_000, func(i int) string { return fmt.Sprintf("b,dam,,%g,3\n", 1+float64(i)/10_000) }), ""))
	add("a hundred thousand copies", header+strings.Repeat("b,dam,,1,3\n", 100_000))
	for _, x := range []struct{ name, kind, coordinates string }{
		{"a line", "LineString", "[[1,2],[3,4]]"}, {"two positions in one", "MultiPoint", "[[1,2],[3,4]]"}, {"an area of no size", "Polygon", "[[[5,2],[6,2],[7,2],[5,2]]]"},
	} {
		all = append(all, Case{Name: "barriers, " + x.name, Ending: ".geojson", Role: "barriers",
			Bytes: []byte(collection(featureOf(`"barrier_id":"b","kind":"dam"`, x.kind, x.coordinates), featureOf(`"barrier_id":"a","kind":"dam"`, "Point", "[1,2]")))})
	}
	return all
}
