package validate

import (
	"maps"
	"slices"
	"strings"
)

// Markup checks a page or a picture: well-formed XML, as our pages are as well,
// with nothing in it that runs and nothing that is asked of a network.
func Markup(data []byte) *Report {
	r := &Report{}
	root, err := parse(data)
	if err != nil {
		r.addf("not well formed: %v", err)
		return r
	}
	root.walk(func(n *node) {
		if n.name == "script" {
			r.addf("a script, which no page of ours holds")
		}
		for _, name := range slices.Sorted(maps.Keys(n.attr)) {
			value := n.attr[name]
			if strings.HasPrefix(strings.ToLower(name), "on") {
				r.addf("%s has an attribute that runs: %s", n.name, name)
			}
			if (name == "src" || n.name == "link") && strings.Contains(value, "//") {
				r.addf("%s asks a network: %q", n.name, value)
			}
		}
	})
	return r
}
