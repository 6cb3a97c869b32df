package report

import (
	"math"
	"strings"
	"testing"
)

// The formula at known values of WCAG: black on white is 21, and #767676, the lightest grey allowed
// for text on white, is 4.54.
func TestContrast(t *testing.T) {
	if got := contrast(t, "#000000", "#ffffff"); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white: %v", got)
	}
	if got := contrast(t, "#767676", "#ffffff"); math.Abs(got-4.54) > 0.005 {
		t.Errorf("#767676 on white: %v", got)
	}
}

// Every shade has its contrast on the panel and on the page, in light and dark mode, and the style
// sheet uses no other colour.
func TestShadesHaveTheirContrast(t *testing.T) {
	grounds := map[string]shade{}
	for _, s := range shades {
		if s.ratio == 0 {
			grounds[s.name] = s
			continue
		}
		for _, ground := range []string{s.on, "page"} {
			g := grounds[ground]
			if got := contrast(t, s.light, g.light); got < s.ratio {
				t.Errorf("%s on light %s: %.2f, want %v", s.name, ground, got, s.ratio)
			}
			if got := contrast(t, s.dark, g.dark); got < s.ratio {
				t.Errorf("%s on dark %s: %.2f, want %v", s.name, ground, got, s.ratio)
			}
		}
	}
	if strings.Contains(strings.ReplaceAll(pageStyle, "#", " #"), " #0") || strings.Contains(pageStyle, "rgb(") {
		t.Error("a colour of its own in page.css")
	}
	for _, part := range strings.Split(pageStyle, "var(--")[1:] {
		name, _, _ := strings.Cut(part, ")")
		if !strings.Contains(pageColors(), "--"+name+":") {
			t.Errorf("no shade %s", name)
		}
	}
}
