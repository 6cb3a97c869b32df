package mapfile

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"html"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// kmlPlacemark is a placemark as read by Go's XML reader.
type kmlPlacemark struct {
	Name        string `xml:"name"`
	Description string `xml:"description"`
	StyleURL    string `xml:"styleUrl"`
	Data        []struct {
		Name  string `xml:"name,attr"`
		Text  string `xml:",chardata"`
		Value string `xml:"value"`
	} `xml:"ExtendedData>SchemaData>SimpleData"`
}

// kmlDocument is a map: its placemarks, and the balloon of each style.
type kmlDocument struct {
	marks    []kmlPlacemark
	balloons map[string]string
}

func readKML(t testing.TB, doc []byte) kmlDocument {
	t.Helper()
	d := kmlDocument{balloons: map[string]string{}}
	decoder := xml.NewDecoder(bytes.NewReader(doc))
	for {
		token, err := decoder.Token()
		if token == nil {
			return d
		}
		if err != nil {
			t.Fatal(err)
		}
		start, ok := token.(xml.StartElement)
		switch {
		case ok && start.Name.Local == "Placemark":
			var mark kmlPlacemark
			if err := decoder.DecodeElement(&mark, &start); err != nil {
				t.Fatal(err)
			}
			d.marks = append(d.marks, mark)
		case ok && start.Name.Local == "Style":
			var style struct {
				ID   string `xml:"id,attr"`
				Text string `xml:"BalloonStyle>text"`
			}
			if err := decoder.DecodeElement(&style, &start); err != nil {
				t.Fatal(err)
			}
			d.balloons[style.ID] = style.Text
		}
	}
}

// balloon returns the HTML that a viewer shows for a placemark (OGC 07-147r2, 9.1.3.10 and 11.2):
// the style's text with the placemark's values in place of $[name], $[description] and $[field],
// also within values.
func (d kmlDocument) balloon(mark kmlPlacemark) string {
	text := d.balloons[strings.TrimPrefix(mark.StyleURL, "#")]
	if text == "" {
		text = "<b>$[name]</b><br/>$[description]"
	}
	pairs := []string{"$[name]", mark.Name, "$[description]", mark.Description}
	for _, data := range mark.Data {
		pairs = append(pairs, "$["+data.Name+"]", data.Text)
	}
	replacer := strings.NewReplacer(pairs...)
	return replacer.Replace(replacer.Replace(text))
}

// The elements that the program itself writes in balloons.
var balloonElements = []string{"B", "BR", "H3", "H4", "HR", "IMG", "LI", "P", "TABLE", "TBODY", "TD", "TR", "UL"}

// browserScript makes the browser report each balloon: its text, its elements, their active
// attributes, and whether any text was run.
const browserScript = `
var told = Array.from(document.querySelectorAll("section")).map(s => ({
  Text: s.textContent,
  Elements: Array.from(new Set(Array.from(s.querySelectorAll("*")).map(e => e.tagName))),
  Acts: Array.from(s.querySelectorAll("*")).flatMap(e => Array.from(e.attributes)).filter(a => /^on|href|src|style/.test(a.name)).map(a => a.name + "=" + a.value),
}));
document.body.replaceChildren(Object.assign(document.createElement("pre"), {id: "told", textContent: JSON.stringify({Ran: window.hasRun === true, Balloons: told})}));
`

// browsed is the report of browserScript.
type browsed struct {
	Ran      bool
	Balloons []struct {
		Text           string
		Elements, Acts []string
	}
}

// inBrowser opens each of the pieces of HTML in Chromium.
func inBrowser(t *testing.T, pieces []string) browsed {
	t.Helper()
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("chromium is not installed: balloons are not opened in a browser")
	}
	var page strings.Builder
	page.WriteString("<!DOCTYPE html><meta charset=utf-8><title>t</title><script>window.ran = window.alert = function() { window.hasRun = true }</script>")
	for _, piece := range pieces {
		fmt.Fprintf(&page, "<section>%s</section>", piece)
	}
	fmt.Fprintf(&page, "<script>addEventListener('load', function() {%s})</script>", browserScript)
	file := filepath.Join(t.TempDir(), "page.html")
	save(t, file, []byte(page.String()))
	command := exec.Command(chromium, "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--user-data-dir="+t.TempDir(), "--dump-dom", "file://"+file)
	out, err := command.Output()
	_, dom, ok := strings.Cut(string(out), `<pre id="told">`)
	if !ok {
		t.Skipf("chromium gives no page here: %v\n%.300s", err, out)
	}
	dom, _, _ = strings.Cut(dom, "</pre>")
	var told browsed
	if err := json.Unmarshal([]byte(html.UnescapeString(dom)), &told); err != nil {
		t.Fatal(err)
	}
	if len(told.Balloons) != len(pieces) {
		t.Fatalf("%d balloons of %d", len(told.Balloons), len(pieces))
	}
	return told
}

// flat returns a text with white space as a reader sees it.
func flat(s string) string { return strings.Join(strings.Fields(s), " ") }

// For any text from the field, a browser that shows the balloons as a KML viewer does finds no
// element or attribute from that text, runs nothing, and shows each text in its visible form.
func TestBalloonsInABrowser(t *testing.T) {
	d := readKML(t, kmlOf(t))
	pieces := make([]string, len(d.marks))
	for i, mark := range d.marks {
		pieces[i] = d.balloon(mark)
	}
	told := inBrowser(t, pieces)
	if told.Ran {
		t.Error("a text was run")
	}
	var all strings.Builder
	for i, b := range told.Balloons {
		for _, e := range b.Elements {
			if !slices.Contains(balloonElements, e) {
				t.Errorf("an element %s in %.150q", e, pieces[i])
			}
		}
		if len(b.Acts) > 0 {
			t.Errorf("%q in %.150q", b.Acts, pieces[i])
		}
		all.WriteString(flat(b.Text) + "\n")
	}
	for _, text := range nasty {
		// where a name is shown as HTML, entities in it appear decoded
		if want, name := flat(check.Visible(text)), flat(html.UnescapeString(title(text))); !strings.Contains(all.String(), want) && !strings.Contains(all.String(), name) {
			t.Errorf("no balloon shows %q or %q", want, name)
		}
	}
}

// The browser does report markup, scripts and attributes; otherwise the test above could not fail.
func TestBrowserTellsOfMarkup(t *testing.T) {
	told := inBrowser(t, []string{"<table><tr><td>&lt;b&gt;</td></tr></table>", `<i>x</i><img src="data:image/png,x" onerror="ran()">`})
	if !told.Ran || len(told.Balloons[0].Acts) != 0 || told.Balloons[0].Text != "<b>" || !slices.Contains(told.Balloons[1].Elements, "I") || len(told.Balloons[1].Acts) != 2 {
		t.Errorf("%+v", told)
	}
}

// FuzzKMLTexts: any text from the field reads back from the map with an XML reader: in names as a
// title, in balloons in its visible form, without elements of its own in the HTML, and without
// entities that a viewer replaces.
func FuzzKMLTexts(f *testing.F) {
	for _, s := range nasty {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		run := many(24, 8)
		for i := range run.Centerlines {
			run.Centerlines[i].Name = s
		}
		// characters not allowed in XML 1.0 become U+FFFD (section 2.2)
		shown := strings.NewReplacer("\ufffe", "\ufffd", "\uffff", "\ufffd").Replace(check.Visible(s))
		d := readKML(t, mapOf(t, run))
		blank := strings.TrimSpace(s) == "" || flat(shown) == "" // left out of balloons
		named, told := blank, blank
		for _, mark := range d.marks {
			named = named || strings.Contains(flat(mark.Name), flat(titles.Replace(shown)))
			told = told || strings.Contains(flat(html.UnescapeString(markup.ReplaceAllString(mark.Description, " "))), flat(shown))
			if strings.ContainsAny(mark.Name, "<>") || strings.Contains(mark.Name, "$[") || strings.Contains(mark.Description, "$[") {
				t.Fatalf("%q: %q, %q", s, mark.Name, mark.Description)
			}
			for _, tag := range markup.FindAllString(mark.Description, -1) {
				if !slices.Contains(balloonElements, strings.ToUpper(strings.Trim(tag, "</>"))) {
					t.Fatalf("%q brings in %s", s, tag)
				}
			}
		}
		if !named || !told {
			t.Fatalf("%q: in a name %v, in a balloon %v", s, named, told)
		}
	})
}

var markup = regexp.MustCompile(`<[^>]*>`)

// kmlOf returns the fixture's map with every kind of feature.
func kmlOf(t testing.TB) []byte { return mapOf(t, fixture()) }

// mapOf returns a run's map.
func mapOf(t testing.TB, run *result.Run) []byte {
	t.Helper()
	for _, d := range Deliverables(Extras{KML: true, Network: true, Notices: true, Units: true}) {
		if file := made(t, d, run, 2); strings.HasSuffix(file.name, ".kml") {
			return file.data
		}
	}
	t.Fatal("no KML among the deliverables")
	return nil
}

// Two KML readers in Debian's gdal-bin, Google's libkml and GDAL's own on expat, read the same
// names and descriptions as Go's XML reader.
func TestKMLTextsInTwoReaders(t *testing.T) {
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (gdal-bin): texts are not read by other readers of KML")
	}
	doc := kmlOf(t)
	var want []string
	for _, mark := range readKML(t, doc).marks {
		want = append(want, flat(mark.Name)+"|"+flat(mark.Description))
		if strings.ContainsAny(mark.Name, "<>") || strings.Contains(mark.Name, "$[") || check.Visible(mark.Name) != mark.Name {
			t.Errorf("name %q", mark.Name)
		}
	}
	slices.Sort(want)
	file := filepath.Join(t.TempDir(), "map.kml")
	save(t, file, doc)
	for _, reader := range []struct{ name, other string }{{"LIBKML", "KML"}, {"KML", "LIBKML"}} {
		dir := filepath.Join(t.TempDir(), "tables")
		command := exec.Command("ogr2ogr", "-f", "CSV", dir, file)
		command.Env = append(os.Environ(), "OGR_SKIP="+reader.other)
		if out, err := command.CombinedOutput(); err != nil || bytes.Contains(out, []byte("ERROR")) {
			t.Errorf("%s: %v: %s", reader.name, err, out)
			continue
		}
		got := namesIn(t, dir)
		if !slices.Equal(got, want) {
			for i := range min(len(got), len(want)) {
				if got[i] != want[i] {
					t.Errorf("%s: reads %q, want %q", reader.name, got[i], want[i])
					break
				}
			}
			t.Errorf("%s: %d placemarks, want %d", reader.name, len(got), len(want))
		}
	}
}

var nameColumn = regexp.MustCompile(`(?i)^(name|description)$`)

// namesIn returns the name and description of every row of the tables in a folder.
func namesIn(t *testing.T, dir string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, "*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("%v: %q", err, files)
	}
	var got []string
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		var at []int
		for k, name := range rows[0] {
			if nameColumn.MatchString(name) {
				at = append(at, k)
			}
		}
		if len(at) != 2 {
			t.Fatalf("%s: columns %q", file, rows[0])
		}
		for _, row := range rows[1:] {
			got = append(got, flat(row[at[0]])+"|"+flat(row[at[1]]))
		}
	}
	slices.Sort(got)
	return got
}
