package validate

import (
	"strings"
	"testing"
)

const goodGPX = `<?xml version="1.0"?><gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="c"><metadata><name>n</name><time>2026-09-30T00:00:00Z</time></metadata>` +
	`<wpt lat="1" lon="-180"><name>A</name><cmt>c</cmt><desc>d</desc><type>t</type></wpt><wpt lat="1.5" lon="2"><name>B</name></wpt>` +
	`<rte><name>R</name><rtept lat="1" lon="2"><name>x</name></rtept><rtept lat="1" lon="2.5"/></rte></gpx>`

// Each wrong document breaks one rule of the schema, or of names.
func TestGPX(t *testing.T) {
	if r := GPX([]byte(goodGPX), Bounds{}); !r.OK() || r.Features != 3 {
		t.Fatalf("%v, %d features, want none wrong and 3", r.Problems, r.Features)
	}
	for _, tt := range []struct{ old, to, want string }{
		{`version="1.1"`, `version="1.0"`, "root is"},
		{`GPX/1/1"`, `GPX/1/0"`, "root is"},
		{`lon="-180"`, `lon="180"`, "lon"},
		{`lat="1.5"`, `lat="91"`, "beyond 90"},
		{`lat="1.5"`, `lat="1e1"`, "lat"},
		{`lat="1.5"`, ``, "lat"},
		{`<name>B</name>`, `<name>A</name>`, "used twice"},
		{`<cmt>c</cmt><desc>d</desc>`, `<desc>d</desc><cmt>c</cmt>`, "too late"},
		{`<cmt>c</cmt>`, `<cmt>c</cmt><cmt>d</cmt>`, "twice"},
		{`<type>t</type>`, `<colour>t</colour>`, "does not belong"},
		{`T00:00:00Z`, ``, "time"},
		{`<rtept lat="1" lon="2"><name>x</name></rtept><rtept lat="1" lon="2.5"/>`, ``, "no point"},
		{`</gpx>`, ``, "not XML"},
	} {
		r := GPX([]byte(strings.Replace(goodGPX, tt.old, tt.to, 1)), Bounds{})
		if r.OK() || !strings.Contains(strings.Join(r.Problems, "\n"), tt.want) {
			t.Errorf("%s for %s: %v, want %s", tt.to, tt.old, r.Problems, tt.want)
		}
	}
	if r := GPX([]byte(goodGPX), Bounds{West: 0, South: 0, East: 1, North: 1}); r.OK() {
		t.Error("places outside the bounds pass")
	}
}
