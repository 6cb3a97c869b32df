package validate

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
)

// Markup checks a page or picture: it must be well-formed XML, as our pages are, must not run anything,
// and must not request anything from a network.
func Markup(data []byte) *Report {
	r := &Report{}
	root, err := parse(data)
	if err != nil {
		r.addf("not well formed: %v", err)
		return r
	}
	r.quiet(root)
	root.walk(func(n *node) {
		if n.name == "script" {
			r.addf("a script; such pages of this program have none")
		}
	})
	return r
}

// noNetwork is the policy with which a browser lets a page request nothing (W3C, Content Security
// Policy Level 3, section 6.1: default-src).
const noNetwork = "default-src 'none';"

// MapPage checks the page with the map. It checks the same, but allows the page's data, as JSON, and
// one script, under a policy that prevents all requests.
func MapPage(data []byte) *Report {
	r := &Report{}
	root, err := parse(data)
	if err != nil {
		r.addf("not well formed: %v", err)
		return r
	}
	r.quiet(root)
	programs, held, policy := 0, 0, false
	root.walk(func(n *node) {
		switch {
		case n.name == "meta" && n.attr["http-equiv"] == "Content-Security-Policy":
			policy = policy || programs+held == 0 && strings.HasPrefix(n.attr["content"], noNetwork)
		case n.name == "script" && n.attr["type"] == "application/json":
			held++
			if !json.Valid([]byte(n.text)) {
				r.addf("its data are not JSON")
			}
		case n.name == "script":
			programs++
		}
	})
	if programs != 1 || held != 1 || !policy {
		r.addf("%d programs and %d sets of data, not one of each under a policy that keeps them off the network", programs, held)
	}
	return r
}

// quiet reports elements and attributes that would run something or request something from a network.
func (r *Report) quiet(root *node) {
	root.walk(func(n *node) {
		for _, name := range slices.Sorted(maps.Keys(n.attr)) {
			value := n.attr[name]
			if strings.HasPrefix(strings.ToLower(name), "on") {
				r.addf("%s has an attribute that runs: %s", n.name, name)
			}
			if (name == "src" || n.name == "link") && strings.Contains(value, "//") {
				r.addf("%s would load from a network: %q", n.name, value)
			}
		}
	})
}
