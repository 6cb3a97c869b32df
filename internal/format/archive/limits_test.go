package archive_test

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/internal/format"
	"driftreach/internal/testkit/layers"
)

// pack is an archive of members with their texts, in turn.
func pack(t *testing.T, namesAndTexts ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(namesAndTexts); i += 2 {
		w, err := z.Create(namesAndTexts[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, namesAndTexts[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// refuses says whether err is what is wanted, whole: place, what was found and the remedy.
func refuses(t *testing.T, name string, err error, place, found, remedy string) {
	t.Helper()
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Place != place || unusable.Found != found || unusable.Remedy != remedy {
		t.Errorf("%s: %v, want %s: %s; %s", name, err, place, found, remedy)
	}
}

func kml(inside string) string { return "<kml><Document>" + inside + "</Document></kml>" }

func mark(name string) string { return "<Placemark><name>" + name + "</name></Placemark>" }

func link(href string) string {
	return "<NetworkLink><Link><href> " + href + " </href></Link></NetworkLink>"
}

// TestLinks: the first KML document of an archive is read, whatever its name (OGC 12-007r2, annex C), and
// then, once each and in the order of the archive, the documents it links to: not itself, nor one that
// nothing links to, nor an image, nor what a linked document links to.
func TestLinks(t *testing.T) {
	l, err := layers.Read(layers.Form{File: "a.kmz", Bytes: pack(t,
		"in/doc.kml", kml(mark("doc")+link("b.kml")+link("sub/a.kml")+link("b.kml")+link("doc.kml")+link("icon.png")+link("http://example.org/far.kml")+link("../up.KML")),
		"in/sub/a.kml", kml(mark("a")+link("c.kml")), "in/b.kml", kml(mark("b1")+mark("b2")), "in/icon.png", "x", "b.kml", kml(mark("other")),
		"in/sub/c.kml", kml(mark("deep")), "up.KML", kml(mark("up")))}, layers.Asked{Take: rising(t)})
	if diff := cmp.Diff([]string{"name=doc", "name=a", "name=b1", "name=b2", "name=up"}, l.Describe()); err != nil || diff != "" {
		t.Errorf("%v (-want +got):\n%s", err, diff)
	}
	_, err = layers.Read(layers.Form{File: "a.kmz", Bytes: pack(t, "doc.kml", kml(link("b.kml")), "b.kml", "<kml>")}, layers.Asked{})
	refuses(t, "a broken document that is linked", err, "byte 5", "line 1: unexpected EOF", "repair the file at that place, or write it again")
}

// rising checks that the rows of all documents are numbered one after the other.
func rising(t *testing.T) func(*format.Feature) error {
	n := 0
	return func(f *format.Feature) error {
		if n++; f.Row != n {
			t.Errorf("row %d comes as the %d.", f.Row, n)
		}
		return nil
	}
}

// TestMembersThatCannotBeRead: what each kind of other archive is, and what to do.
func TestMembersThatCannotBeRead(t *testing.T) {
	const sheet, none = "save the sheet as .xlsx or CSV", "put a Shapefile, GeoPackage, GeoParquet, KML, GPX, GeoJSON or CSV file into it"
	for member, want := range map[string][2]string{
		"xl/workbook.bin":   {"the file is a spreadsheet in binary form (.xlsb), or a damaged one, which cannot be read here", sheet},
		"content.xml":       {"the file is a spreadsheet of the OpenDocument form (.ods), which cannot be read here", sheet},
		"word/document.xml": {"the file is a text document, which cannot be read here", sheet},
		"in/content.xml":    {"the archive has no member that can be read", none},
		"p.GDB/a.gdbtable":  {"the archive holds a file geodatabase, which cannot be read here", "save its layer as GeoPackage"},
		"photo.jpg":         {"the archive has no member that can be read", none},
		"__MACOSX/a.csv":    {"the archive has no member that can be read", none},
		"in/.a.csv":         {"the archive has no member that can be read", none},
		"a.csv/":            {"the archive has no member that can be read", none},
	} {
		_, err := layers.Read(layers.Form{File: "a.zip", Bytes: pack(t, member, map[bool]string{false: "x"}[strings.HasSuffix(member, "/")])}, layers.Asked{})
		refuses(t, member, err, "", want[0], want[1])
	}
	_, err := layers.Read(layers.Form{File: "a.zip", Bytes: pack(t)}, layers.Asked{})
	refuses(t, "an empty archive", err, "", "the archive has no member that can be read", none)
	_, err = layers.Read(layers.Form{File: "a.zip", Bytes: pack(t, "a.csv", string(pack(t, "a.csv", "id\n1\n")))}, layers.Asked{})
	refuses(t, "an archive in an archive", err, "", "the archive holds another archive", "unpack it")
	_, err = layers.Read(layers.Form{File: "a.zip", Bytes: []byte("PK\x03\x04 and nothing more of it")}, layers.Asked{})
	refuses(t, "a damaged archive", err, "", "the zip archive cannot be opened: zip: not a valid zip file", "pack it again, or unpack it")

	sound := pack(t, "a.csv", "id\n1\n")
	for _, at := range []int{6, bytes.Index(sound, []byte("PK\x01\x02")) + 8} { // the flags, in the member's head and in the list (APPNOTE 4.4.4)
		sound[at] |= 1
	}
	_, err = layers.Read(layers.Form{File: "a.zip", Bytes: sound}, layers.Asked{})
	refuses(t, "an encrypted member", err, "a.csv", "the member of the archive is encrypted", "unpack it")
}

// TestLayerOfTheOnlyMember: the name of the member chooses it and no layer in it; any other name is a
// layer in it.
func TestLayerOfTheOnlyMember(t *testing.T) {
	b := pack(t, "in/Day.gpx", `<gpx><wpt lat="2" lon="1"/><trk><trkseg><trkpt lat="4" lon="3"/></trkseg></trk></gpx>`)
	for layer, want := range map[string]string{"": "waypoint 1 2", "day": "waypoint 1 2", "Day.gpx": "waypoint 1 2", "in/Day.gpx": "waypoint 1 2", "tracks": "track (3 4)"} {
		l, err := layers.Read(layers.Form{File: "a.zip", Bytes: b}, layers.Asked{Layer: layer})
		if diff := cmp.Diff([]string{want}, l.Describe()); err != nil || diff != "" {
			t.Errorf("layer %q: %v (-want +got):\n%s", layer, err, diff)
		}
	}
}

// TestDamagedMember: a member whose checksum is not that of its bytes.
func TestDamagedMember(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.CreateHeader(&zip.FileHeader{Name: "a.csv", Method: zip.Store})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(w, "id,note\n1,abcd\n"); err != nil {
		t.Fatal(err)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	_, err = layers.Read(layers.Form{File: "a.zip", Bytes: bytes.Replace(b.Bytes(), []byte("abcd"), []byte("abce"), 1)}, layers.Asked{})
	refuses(t, "a damaged member", err, "a.csv", "the member of the archive is damaged: zip: checksum error", "pack it again")
}

// TestRowsOfASmallArchive: rows that come to more than the limit's times the size of the archive are
// refused, though their text alone does not.
func TestRowsOfASmallArchive(t *testing.T) {
	_, err := layers.Read(layers.Form{File: "a.zip", Bytes: pack(t, "a.csv", "id\n"+strings.Repeat("1\n", 70_000))}, layers.Asked{})
	var unusable *format.UnusableError
	if !errors.As(err, &unusable) || unusable.Found != "the rows come to more than 200 times the size of the file" {
		t.Error(err)
	}
}

// TestManyLayers: of the names of layers two hundred letters are listed.
func TestManyLayers(t *testing.T) {
	var names, members []string
	for i := range 12 {
		names = append(names, fmt.Sprintf("layer number %02d of this", i))
		members = append(members, names[i]+".csv", "id\n1\n")
	}
	list := strings.Join(names, ", ")[:200] + "..."
	for layer, found := range map[string]string{"": "the archive has several layers: " + list, "x": `the archive has no layer "x"; it has ` + list} {
		_, err := layers.Read(layers.Form{File: "a.zip", Bytes: pack(t, members...)}, layers.Asked{Layer: layer})
		refuses(t, "twelve layers", err, "", found, "name one after a colon, as in a.zip:"+names[0])
	}
}

// TestBesideAMember: a Shapefile's other files are the members of its own folder, in any case of
// letters, and not those of another; a table without shapes beside them is no layer.
func TestBesideAMember(t *testing.T) {
	shp, dbf := layers.Shapefile([]orb.Point{{1, 2}})
	l, err := layers.Read(layers.Form{File: "a.zip", Bytes: pack(t, "x/p.dbf", "wrong", "in/P.DBF", string(dbf), "in/p.shp", string(shp), "in/p.csv", "id\n1\n")}, layers.Asked{})
	if diff := cmp.Diff([]string{"Point 1 2 id=0"}, l.Describe()); err != nil || l.Format != "Shapefile" || diff != "" {
		t.Errorf("%s, %v (-want +got):\n%s", l.Format, err, diff)
	}
}

// TestLimitsOfAnArchive: members, bytes of a member and of all, each at its limit and at one less.
func TestLimitsOfAnArchive(t *testing.T) {
	limited := func(b []byte, set func(*format.Limits)) error {
		limits := format.DefaultLimits()
		set(&limits)
		_, err := layers.Read(layers.Form{File: "a.zip", Bytes: b}, layers.Asked{Limits: limits})
		return err
	}
	three := pack(t, "a.csv", "id\n1\n", "b.txt.gz", "", "c/", "")
	if err := limited(three, func(l *format.Limits) { l.Members = 3 }); err != nil {
		t.Errorf("three members: %v", err)
	}
	refuses(t, "three members", limited(three, func(l *format.Limits) { l.Members = 2 }), "", "the archive has 3 members, more than the limit of 2", "unpack the file that is meant, or raise limits.members")

	text := "id,note\n" + strings.Repeat("1,0123456789\n", 1000)
	one := pack(t, "a.csv", text)
	if err := limited(one, func(l *format.Limits) { l.MemberBytes = int64(len(text)) }); err != nil {
		t.Errorf("a member of %d bytes: %v", len(text), err)
	}
	found := fmt.Sprintf("the member is larger than the limit of %d bytes", len(text)-1)
	refuses(t, "a member too large", limited(one, func(l *format.Limits) { l.MemberBytes = int64(len(text)) - 1 }), "a.csv", found, "unpack the archive, or raise limits.member_mb")

	// 16 MiB are free of any ratio, as FreeExpansion says; behind one feature are only blanks
	const free = 16 << 20
	for _, c := range []struct {
		size, more int
		refused    bool
	}{{free, 0, false}, {free + 1, 0, true}, {free + 1, 1, false}} {
		b := pack(t, "a.geojson", `{"type":"Feature"}`+strings.Repeat(" ", c.size-18))
		ratio := c.size/len(b) + c.more
		switch err := limited(b, func(l *format.Limits) { l.Expansion = ratio }); {
		case !c.refused && err != nil:
			t.Errorf("%d bytes, of %d packed, with a limit of %d times: %v", c.size, len(b), ratio, err)
		case c.refused:
			refuses(t, "an archive that grows", err, "a.geojson", fmt.Sprintf("the archive unpacks to more than %d times its size", ratio), "unpack the archive, or raise limits.expansion")
		}
	}
}
