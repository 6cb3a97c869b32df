package report

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"driftreach/internal/check"
)

// canvas collects the elements of a picture. Lengths are in the picture's own units.
type canvas struct{ b []byte }

func (c *canvas) raw(parts ...string) {
	for _, p := range parts {
		c.b = append(c.b, p...)
	}
}

// at appends a length with at most one decimal.
func (c *canvas) at(x float64) { c.raw(length(x)) }

func length(x float64) string {
	s := strconv.FormatFloat(x, 'f', 1, 64)
	s = strings.TrimSuffix(s, ".0")
	if s == "-0" {
		return "0"
	}
	return s
}

// text writes one line of text whose left end, middle or right end is at x.
func (c *canvas) text(x, y float64, class, s string) {
	c.raw(`<text x="`, length(x), `" y="`, length(y), `"`)
	if class != "" {
		c.raw(` class="`, class, `"`)
	}
	c.raw(`>`, escape(s), "</text>\n")
}

func (c *canvas) segment(x1, y1, x2, y2 float64, class string) {
	c.raw(`<line x1="`, length(x1), `" y1="`, length(y1), `" x2="`, length(x2), `" y2="`, length(y2), `" class="`, class, "\"/>\n")
}

func (c *canvas) rect(x, y, w, h float64, class string) {
	c.raw(`<rect x="`, length(x), `" y="`, length(y), `" width="`, length(w), `" height="`, length(h), `" class="`, class, "\"/>\n")
}

// place is a point of the picture.
type place struct{ x, y float64 }

// path writes an open line through the points.
func (c *canvas) path(places []place, class string) {
	c.raw(`<path d="`)
	for i, p := range places {
		if i == 0 {
			c.raw("M")
		} else {
			c.raw("L")
		}
		c.at(p.x)
		c.raw(" ")
		c.at(p.y)
	}
	c.raw(`" class="`, class, "\"/>\n")
}

// mark draws the mark of an ink at p, with half width r.
func (c *canvas) mark(p place, k ink, r float64) {
	corners := map[mark][]place{
		square:   {{-.85, -.85}, {.85, -.85}, {.85, .85}, {-.85, .85}},
		triangle: {{0, -1.1}, {1, .8}, {-1, .8}},
		diamond:  {{0, -1.2}, {1.2, 0}, {0, 1.2}, {-1.2, 0}},
	}[k.mark]
	if corners == nil {
		c.raw(`<circle cx="`, length(p.x), `" cy="`, length(p.y), `" r="`, length(r), `" class="`, k.class, "\"/>\n")
		return
	}
	c.raw(`<path d="M`)
	for i, q := range corners {
		if i > 0 {
			c.raw("L")
		}
		c.at(p.x + r*q.x)
		c.raw(" ")
		c.at(p.y + r*q.y)
	}
	c.raw(`Z" class="`, k.class, "\"/>\n")
}

// escape makes text safe in XML. Markup is escaped; characters that control the display, or that XML
// 1.0 does not allow (section 2.2), are replaced by their escapes.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == 0xFFFE || r == 0xFFFF {
			return utf8.RuneError
		}
		return r
	}, check.Visible(s))
	return markupEscapes.Replace(s)
}

var markupEscapes = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

// shorten cuts text to at most n characters, the last one then an ellipsis.
func shorten(s string, n int) string {
	runes := []rune(s)
	if len(runes) <= n {
		return s
	}
	return string(runes[:n-1]) + "…"
}
