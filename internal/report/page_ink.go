package report

import (
	"fmt"
	"strings"
)

// shade is one colour of the page, for light and dark backgrounds.
type shade struct {
	name        string
	light, dark string
	on          string  // the shade it must contrast with
	ratio       float64 // smallest contrast with it; 0 for none
}

// Smallest contrasts: WCAG 2.2, 1.4.3 for text and 1.4.11 for graphics.
const (
	forText    = 4.5
	forDrawing = 3.0
)

// shades are the page's colours. Those of stands, bars and marks are Okabe and Ito's (Color Universal
// Design, 2008), those of reaches the purple half of Tol's PRGn (SRON/EPS/TN/09-002, issue 3.2, 2021).
// Each was made darker or lighter until it has the stated contrast. Shape, fill and width also differ.
var shades = []shade{
	{name: "page", light: "#ffffff", dark: "#14171c"},
	{name: "panel", light: "#f3f5f8", dark: "#1d222a"},
	{name: "rule", light: "#c9cfd8", dark: "#3b434f"},
	{"ink", "#171b21", "#eef1f5", "panel", forText},
	{"soft", "#4c5560", "#b4bdc9", "panel", forText},
	{"accent", "#0a4f86", "#8cc4f0", "panel", forText},
	{"alert", "#9a3412", "#ffb085", "panel", forText},
	{"water", "#5482a8", "#6f9ec8", "panel", forDrawing},
	{"low", "#9a71ad", "#8f6aa6", "panel", forDrawing},
	{"moderate", "#8a4a9c", "#b58ccb", "panel", forDrawing},
	{"high", "#5a1769", "#e4cdf0", "panel", forDrawing},
	{"live", "#c04f00", "#ff9a4d", "panel", forDrawing},
	{"done", "#00694d", "#3fd0a3", "panel", forDrawing},
	{"bar", "#0072b2", "#56b4e9", "panel", forDrawing},
	{"gross", "#a24700", "#f2a15f", "panel", forDrawing},
	{"canopy", "#00694d", "#7be0c0", "panel", forDrawing},
}

// pageColors returns the shades as variables for the style sheet: light, and dark on a screen set to
// dark. Print is always light.
func pageColors() string {
	var b strings.Builder
	list := func(of func(shade) string) {
		for _, s := range shades {
			fmt.Fprintf(&b, "--%s:%s;", s.name, of(s))
		}
	}
	b.WriteString(":root{color-scheme:light dark;")
	list(func(s shade) string { return s.light })
	b.WriteString("}\n@media screen and (prefers-color-scheme:dark){:root{")
	list(func(s shade) string { return s.dark })
	b.WriteString("}}\n")
	return b.String()
}
