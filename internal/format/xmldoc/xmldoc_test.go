package xmldoc

import (
	"encoding/xml"
	"errors"
	"fmt"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/format"
)

// reading is a document that is being read, within limits that set may change.
func reading(text string, set func(*format.Limits)) *format.Reading {
	limits := format.DefaultLimits()
	if set != nil {
		set(&limits)
	}
	r := &format.Reading{Name: "a.xml", Limits: limits, Log: &check.Log{}, Encoding: "UTF-8", Text: format.NewWindow(strings.NewReader(text))}
	r.Text.More()
	return r
}

// told is an error as place: what was found.
func told(err error) string {
	var unusable *format.UnusableError
	if errors.As(err, &unusable) {
		return unusable.Place + ": " + unusable.Found
	}
	if err != nil {
		return err.Error()
	}
	return ""
}

// TestRootOf: the outermost element, past the declaration, comments and white space; blank for what is
// no XML. The text is not consumed, however far the root is.
func TestRootOf(t *testing.T) {
	far := "<!--" + strings.Repeat("x", 40_000) + "-->"
	for text, want := range map[string]string{
		"<a/>": "a", "<?xml version=\"1.0\"?>\n<!-- c --><!DOCTYPE b><b>": "b", " \n<x:c xmlns:x=\"u\">": "c", far + "<d/>": "d", "<": "", "a": "", "": "", "<!-- c -->": "", "{}": "", "<a": "", "<!DOCTYPE a [<!ENTITY b 'c'>]><a/>": "",
	} {
		r := reading(text, nil)
		if got := RootOf(r); got != want {
			t.Errorf("%.40q: %q, want %q", text, got, want)
		}
		if r.Text.Place() != 0 || r.Text.Anchor != -1 {
			t.Errorf("%.40q: at byte %d, anchor %d", text, r.Text.Place(), r.Text.Anchor)
		}
		if want == "" {
			continue
		}
		if root, err := Open(r).Root(); err != nil || root.Name.Local != want {
			t.Errorf("%.40q: read again, %q, %v", text, root.Name.Local, err)
		}
	}
	if got := RootOf(&format.Reading{}); got != "" {
		t.Errorf("without a text: %q", got)
	}
	// 16 MiB of comments are not kept for it
	r := reading("<!--"+strings.Repeat(strings.Repeat("x", 1<<20)+"--><!--", 18)+"--><a/>", nil)
	if got := RootOf(r); got != "" {
		t.Errorf("after 18 MiB: %q", got)
	}
}

// TestContent: an element's own text, in pieces and CDATA, without that of the elements in it; and what
// comes after it is still there.
func TestContent(t *testing.T) {
	for inside, want := range map[string]string{"text": "text", "a<b>c</b>d": "ad", "a<!-- c -->b<?p i?>": "ab", "<![CDATA[<x>]]>&amp;&#228;": "<x>&ä", "": "", "<b><c>x</c></b>": "", " a ": " a "} {
		x := Open(reading("<r><e>"+inside+"</e><f>next</f></r>", nil))
		if _, err := x.Root(); err != nil {
			t.Fatal(err)
		}
		var got []string
		err := x.Each(func(xml.StartElement) error {
			text, err := x.Content()
			got = append(got, string(text))
			return err
		})
		if strings.Join(got, "|") != want+"|next" || err != nil {
			t.Errorf("%s: %q, %v", inside, got, err)
		}
	}
}

// TestEach: the children of an element and not theirs, whether their content is read or not; an error
// ends it.
func TestEach(t *testing.T) {
	const text = "<r><a><x/></a>text<b/><!-- c --><c><y><z/></y></c></r>"
	for stop, want := range map[string]string{"": "a b c", "b": "a b"} {
		x := Open(reading(text, nil))
		if _, err := x.Root(); err != nil {
			t.Fatal(err)
		}
		var names []string
		wrong := errors.New("stop")
		err := x.Each(func(e xml.StartElement) error {
			names = append(names, e.Name.Local)
			if e.Name.Local == stop {
				return wrong
			}
			return nil
		})
		if strings.Join(names, " ") != want || (stop != "") != errors.Is(err, wrong) {
			t.Errorf("stopped at %q: %q, %v", stop, names, err)
		}
	}
	x := Open(reading(text, nil))
	var names []string
	if err := x.Every(func(e xml.StartElement) error { names = append(names, e.Name.Local); return nil }); err != nil || strings.Join(names, " ") != "r a x b c y z" {
		t.Errorf("every element: %q, %v", names, err)
	}
}

// TestBrokenXML: what is wrong and at which byte, and after which feature where there was one.
func TestBrokenXML(t *testing.T) {
	read := func(text string, features int, set func(*format.Limits)) string {
		x := Open(reading(text, set))
		x.Feature.Row = features
		if _, err := x.Root(); err != nil {
			return told(err)
		}
		return told(x.Last(x.Each(func(xml.StartElement) error {
			_, err := x.Content()
			return err
		})))
	}
	for text, want := range map[string]string{
		"":                                   ": the file is XML without an element",
		"<!-- c -->":                         ": the file is XML without an element",
		"<a/>":                               "",
		"<a/> rest":                          "",
		"<a/>\x00\x00":                       "",
		"<a/><b/>":                           "byte 8: another document comes after the first",
		"<a><b>":                             "byte 6: line 1: unexpected EOF",
		"<a>\n<b></a>":                       "byte 11: line 2: element <b> closed by </a>",
		"<a>&b;</a>":                         "byte 6: line 1: invalid character entity &b;",
		"<!DOCTYPE a><a/>":                   "",
		`<!DOCTYPE a [<!entity b "c">]><a/>`: "byte 30: the text defines entities, which are not expanded here",
	} {
		if got := read(text, 0, nil); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	if got := read("<a><b>", 3, nil); got != "byte 6, after feature 3: line 1: unexpected EOF" {
		t.Errorf("after three features: %s", got)
	}
	for nesting, want := range map[int]string{3: "", 2: "byte 10: elements are nested deeper than limits.nesting allows"} {
		if got := read("<a><b><c/></b><b/><b/></a>", 0, func(l *format.Limits) { l.Nesting = nesting }); got != want {
			t.Errorf("three deep where %d are allowed: %s", nesting, got)
		}
	}
	// an element's tag has the longer of the limit, less the part that is read ahead, and a chunk; here
	// the first tag's reading takes 4096 bytes, and the second tag ends with the chunk after them
	const whole = readAhead + format.Chunk - len("<a><b c=\"\"/>")
	for size, want := range map[int]bool{format.Chunk - 5000: false, whole: false, whole + 1: true, format.Chunk + 5000: true} {
		got := read("<a><b c=\""+strings.Repeat("x", size)+"\"/></a>", 0, func(l *format.Limits) { l.RecordBytes = 10 })
		if long := strings.HasSuffix(got, "an element is longer than limits.record_mb allows"); long != want {
			t.Errorf("a tag of %d bytes: %s", size, got)
		}
	}
	for size, want := range map[int]bool{10: false, 11: true} {
		got := read("<a><b>"+strings.Repeat("x", size)+"</b></a>", 0, func(l *format.Limits) { l.RecordBytes = 10 })
		if long := strings.HasSuffix(got, "an element is longer than limits.record_mb allows"); long != want {
			t.Errorf("a text of %d bytes where 10 are allowed: %s", size, got)
		}
	}
}

// TestCrowded: as many columns, vertices and bytes of text as the limits allow, and one more.
func TestCrowded(t *testing.T) {
	for more, want := range map[int][3]string{
		0: {},
		1: {"byte 0, after feature 1: there are more than 2 different columns", "byte 0, after feature 1: a feature has more vertices than limits.vertices allows", "byte 0, after feature 1: the texts of a feature are longer than limits.record_mb allows"},
	} {
		for i, fill := range []func(x *Reader){
			func(x *Reader) { x.Schema.Names = make([]string, 2+more) },
			func(x *Reader) { x.Feature.Shape.Points = make([]orb.Point, 3+more) },
			func(x *Reader) { x.Layout.Text = make([]byte, 4+more) },
		} {
			x := Open(reading("<a/>", func(l *format.Limits) { l.Columns, l.Vertices, l.RecordBytes = 2, 3, 4 }))
			x.Feature.Row = 1
			if fill(x); told(x.Crowded()) != want[i] {
				t.Errorf("%d more: %s, want %s", more, told(x.Crowded()), want[i])
			}
		}
	}
	// a document without a text is broken, and one without an element that is wanted is not
	none := func(xml.StartElement) error { return nil }
	if got := told(Open(reading("", nil)).Every(none)); got != "byte 0: the text ends inside an element" {
		t.Errorf("nothing: %s", got)
	}
	if err := Open(reading("<a/>", nil)).Every(none); err != nil {
		t.Error(err)
	}
}

// TestDeclaredEncodings: the one the document declares, unless it is known already to be UTF-16.
func TestDeclaredEncodings(t *testing.T) {
	for label, want := range map[string]string{"ISO-8859-1": "ä", "windows-1251": "д", "utf-8": "", "no-such": ""} {
		x := Open(reading(fmt.Sprintf(`<?xml version="1.0" encoding=%q?><a>`, label)+"\xe4</a>", nil))
		_, err := x.Root()
		text, contentErr := x.Content()
		if string(text) != want || (want == "") != (errors.Join(err, contentErr) != nil) {
			t.Errorf("%s: %q, %v, %v", label, text, err, contentErr)
		}
	}
	r := reading(`<?xml version="1.0" encoding="UTF-16"?><a>ä</a>`, nil) // as it is after decoding
	r.Encoding = "UTF-16LE"
	x := Open(r)
	if _, err := x.Root(); err != nil {
		t.Error(err)
	}
	if text, err := x.Content(); string(text) != "ä" || err != nil {
		t.Errorf("decoded already: %q, %v", text, err)
	}
}

// TestAttribute: by its local name, the first of several; blank for none.
func TestAttribute(t *testing.T) {
	x := Open(reading(`<a xmlns:p="u" p:id="1" id="2" b="3"/>`, nil))
	root, err := x.Root()
	if err != nil || Attribute(root, "id") != "1" || Attribute(root, "b") != "3" || Attribute(root, "none") != "" {
		t.Errorf("%+v, %v", root, err)
	}
}

// TestWalk: the first and the last time, whatever their order.
func TestWalk(t *testing.T) {
	for _, c := range []struct{ moments, first, last string }{{"b", "b", "b"}, {"b a c", "a", "c"}, {"c b a", "a", "c"}, {"a a", "a", "a"}, {"", "", ""}} {
		var w Walk
		for _, moment := range strings.Fields(c.moments) {
			w.Add(moment)
		}
		if w.First != c.first || w.Last != c.last {
			t.Errorf("%s: %s to %s", c.moments, w.First, w.Last)
		}
	}
}
