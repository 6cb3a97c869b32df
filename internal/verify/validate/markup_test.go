package validate

import (
	"strings"
	"testing"
)

// A map's page and what must be caught in one.
func TestMapPage(t *testing.T) {
	const good = `<html><head><meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'unsafe-inline'"/></head>` +
		`<body><script type="application/json">{"a":1}</script><script>x()</script></body></html>`
	if r := MapPage([]byte(good)); !r.OK() {
		t.Fatal(r.Problems)
	}
	for name, change := range map[string][2]string{
		"another policy":         {"default-src 'none'", "default-src *"},
		"no policy":              {"http-equiv", "name"},
		"data that are none":     {`{"a":1}`, `{"a":}`},
		"two programs":           {"</body>", "<script>y()</script></body>"},
		"no program":             {"<script>x()</script>", ""},
		"no data":                {`<script type="application/json">{"a":1}</script>`, ""},
		"a program from outside": {"<script>x()", `<script src="https://example.org/x.js">`},
		"an attribute that runs": {"<body>", `<body onload="x()">`},
		"not well formed":        {"</body>", ""},
	} {
		page := strings.Replace(good, change[0], change[1], 1)
		if page == good {
			t.Fatalf("%s: nothing changed", name)
		}
		if MapPage([]byte(page)).OK() {
			t.Errorf("%s: not caught", name)
		}
	}
	if Markup([]byte(good)).OK() {
		t.Error("another page with a script is let pass")
	}
}
