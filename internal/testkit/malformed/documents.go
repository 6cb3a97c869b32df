package malformed

import "strings"

// documents returns KML and GPX texts.
func documents() []Case {
	var all []Case
	add := func(name, text string) {
		all = append(all, Case{Name: "XML, " + name, Ending: ".kml", Bytes: []byte(text)})
	}
	kml := func(text string) string { return "<kml><Document>" + text + "</Document></kml>" }
	point := "<Placemark><Point><coordinates>1,2</coordinates></Point></Placemark>"
	add("entities of entities", `<?xml version="1.0"?><!DOCTYPE kml [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;">]><kml><name>&c;</name></kml>`)
	add("an entity from a file", `<?xml version="1.0"?><!DOCTYPE k [<!ENTITY f SYSTEM "file:///etc/passwd">]><kml><name>&f;</name></kml>`)
	add("an entity that is none", kml("<name>&nope;</name>"))
	add("a hundred thousand folders in one another", "<kml>"+strings.Repeat("<Folder>", 100_000))
	add("a hundred thousand attributes", "<kml "+strings.Repeat(`a="1" `, 100_000)+"/>")
	add("a text of 40 MB", kml("<Placemark><name>"+strings.Repeat("x", 40<<20)+"</name></Placemark>"))
	add("an element's name of 20 MB", "<"+strings.Repeat("k", 20<<20)+">")
	add("a comment of 20 MB never closed", "<kml><!--"+strings.Repeat("x", 20<<20))
	add("raw text never closed", "<kml><![CDATA[x")
	add("an element never closed", "<kml><Document>")
	add("elements that cross", "<kml><Document></kml></Document>")
	add("an attribute without quotes", "<kml a=1/>")
	add("an element that begins with a digit", "<kml><1/></kml>")
	add("bytes of zero", "<kml>\x00</kml>")
	add("an encoding that is none", `<?xml version="1.0" encoding="klingon"?><kml/>`)
	add("an encoding that it is not", `<?xml version="1.0" encoding="UTF-16"?><kml/>`)
	add("no element", "<?xml version='1.0'?><!-- -->")
	add("another document", "<svg/>")
	add("a web page", "<!doctype html><html></html>")
	add("positions that are words", kml(strings.ReplaceAll(point, "1,2", "one,two")))
	add("positions with spaces", kml(strings.ReplaceAll(point, "1,2", "1, 2")))
	add("a position of one number", kml(strings.ReplaceAll(point, "1,2", "1")))
	add("no position", kml("<Placemark><Point/></Placemark>"))
	add("no geometry", kml("<Placemark><name>a</name></Placemark>"))
	add("geometries within geometries", kml("<Placemark>"+strings.Repeat("<MultiGeometry>", 90)+"<Point><coordinates>1,2</coordinates></Point>"+strings.Repeat("</MultiGeometry>", 90)+"</Placemark>"))
	add("a line of three million vertices", kml("<Placemark><LineString><coordinates>"+strings.Repeat("1,2 ", 3_000_000)+"</coordinates></LineString></Placemark>"))
	add("tracks only", "<gpx><trk><trkseg><trkpt lat='1' lon='2'/></trkseg></trk></gpx>")
	add("a waypoint without a position", "<gpx><wpt><name>a</name></wpt></gpx>")
	add("a waypoint of words", "<gpx><wpt lat='north' lon='2'/></gpx>")
	add("a waypoint at latitude 91", "<gpx><wpt lat='91' lon='2'/></gpx>")
	return all
}
