package report

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"driftreach/internal/field"
	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// element is one start tag with the text directly in it.
type element struct {
	name  string
	attrs map[string]string
	text  string
}

// elements reads a picture as XML.
func elements(t interface{ Fatalf(string, ...any) }, svg string) []element {
	d := xml.NewDecoder(strings.NewReader(svg))
	var all []element
	var open []int
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			e := element{name: token.Name.Local, attrs: map[string]string{}}
			for _, a := range token.Attr {
				e.attrs[a.Name.Local] = a.Value
			}
			open = append(open, len(all))
			all = append(all, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				all[open[len(open)-1]].text += string(token)
			}
		}
	}
}

func withClass(all []element, class string) []element {
	return slices.DeleteFunc(slices.Clone(all), func(e element) bool { return e.attrs["class"] != class })
}

// The picture has a name and its figures in words, as a text alternative.
func TestPictureHasNameAndDescription(t *testing.T) {
	all := elements(t, picture(t, worked(t)))
	root := all[0]
	if root.name != "svg" || root.attrs["role"] != "img" || root.attrs["aria-labelledby"] != "title desc" {
		t.Errorf("%+v", root)
	}
	if all[1].name != "title" || all[1].attrs["id"] != "title" || all[1].text != "Acreage and stream at risk, 2021Q1 to 2025Q4" {
		t.Errorf("%+v", all[1])
	}
	for _, want := range []string{
		"Total infested: from 12.00 to 12.00 acres; falling: -0.56 acres a year, p < 0.0001.",
		"Total stream at risk: from 12.00 to 12.00 km; falling",
	} {
		if all[2].name != "desc" || !strings.Contains(all[2].text, want) {
			t.Errorf("%+v has no %q", all[2], want)
		}
	}
	if !strings.Contains(picture(t, worked(t)), "survey effort moves acreage too") {
		t.Error("no caution")
	}
}

// By hand: of six quarters the third has no batch, so the total's lines are in
// two parts; the stream's last part is one quarter, a mark without a line.
func TestLinesStayOpenAtMissingQuarters(t *testing.T) {
	h := gappy(t)
	all := elements(t, picture(t, h))
	if n := len(withClass(all, "line gross")); n != 2+1 {
		t.Errorf("gross: %d lines, want two parts and the one of its name", n)
	}
	// Total: two parts and its name. Stream: quarters 1 and 2; 4 and 6 alone.
	if n := len(withClass(all, "line infested")); n != 3+1+1 {
		t.Errorf("infested: %d lines", n)
	}
	// Three charts of the total with one gap each, two in the stream's.
	if n := len(withClass(all, "gap")); n != 3+2 {
		t.Errorf("%d gaps", n)
	}
	// The slope is drawn where there is a trend, which only gross has.
	if n := len(withClass(all, "sen gross")); n != 1 {
		t.Errorf("%d slopes of gross", n)
	}
	if n := len(withClass(all, "sen infested")); n != 0 {
		t.Errorf("%d slopes of infested", n)
	}
	// The width is divided evenly among six quarters: a missing one keeps its place.
	p := panel{x: 64, w: 716}
	if got := p.across(3, 6) - p.across(1, 6); math.Abs(got-2*716.0/6) > 1e-9 {
		t.Errorf("two quarters are %v apart", got)
	}
}

// The reach of the fifth of six quarters was made with other settings: its line is in two parts,
// the others are whole.
func TestReachStaysOpenWhereItIsMadeOtherwise(t *testing.T) {
	var batches []trend.Batch
	for k := range 6 {
		f := trend.Figures{trend.Gross: 3 * trend.PerUnit, trend.Infested: 2 * trend.PerUnit, trend.ReachAtRisk: int64(9-k) * trend.PerUnit}
		batches = append(batches, trend.Batch{
			Quarter: survey.Quarter{Year: int16(2025 + k/4), Number: int8(k%4 + 1)}, Apart: true, ReachApart: k == 4, Rows: []trend.Row{{Scope: "total", Figures: f}},
		})
	}
	all := elements(t, picture(t, assembled(t, batches)))
	if n := len(withClass(all, "line reach")); n != 2+1 {
		t.Errorf("reach: %d lines, want two parts and the one of its name", n)
	}
	if n := len(withClass(all, "line gross")); n != 1+1 {
		t.Errorf("gross: %d lines, want one and that of its name", n)
	}
}

// For any names and figures the picture is valid XML, stays within its frame, loads nothing from
// outside, and is the same again.
func TestAnyPictureIsSound(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := anyHistory(t).Draw(r, "history")
		svg := picture(t, h)
		if svg != picture(t, h) {
			r.Fatal("not the same again")
		}
		for _, bad := range []string{"href", "url(", "@import", "<script", "NaN", "Inf", "<image", "e+"} {
			if strings.Contains(strings.Join(drawn(r, svg), " "), bad) {
				r.Fatalf("%s in the picture", bad)
			}
		}
		all := elements(r, svg)
		height, _ := strconv.ParseFloat(all[0].attrs["height"], 64)
		for _, e := range all {
			for name, limit := range map[string]float64{"x": pictureWidth, "cx": pictureWidth, "x1": pictureWidth, "x2": pictureWidth, "y": height, "cy": height, "y1": height, "y2": height} {
				text, ok := e.attrs[name]
				v, err := strconv.ParseFloat(text, 64)
				if ok && (err != nil || v < 0 || v > limit) {
					r.Fatalf("%s of %+v outside", name, e)
				}
			}
		}
	})
}

// drawn returns the picture's tags and attributes without its texts.
func drawn(t *rapid.T, svg string) []string {
	var out []string
	for _, e := range elements(t, svg) {
		out = append(out, e.name)
		for name, value := range e.attrs {
			if name != "xmlns" {
				out = append(out, name+"="+value)
			}
		}
		if e.name == "style" {
			out = append(out, e.text)
		}
	}
	return out
}

// A name's markup stays text.
func TestNamesAreEscaped(t *testing.T) {
	svg := picture(t, worked(t))
	if strings.Contains(svg, "<Water>") || !strings.Contains(svg, "=Long &lt;Water&gt;") {
		t.Error("the name is not escaped")
	}
	if got := escape("a\x00\x1b\xff\uFFFEb&"); got != `a\u0000\u001b`+"\uFFFD\uFFFDb&amp;" {
		t.Errorf("%q", got)
	}
}

// The streams with most infested acres come first, and the heading says how many
// have no chart.
func TestLargestStreamsAreDrawn(t *testing.T) {
	b := trend.Batch{Quarter: worked(t).Quarters[0], Rows: []trend.Row{{Scope: "total"}}}
	for i := range 15 {
		b.Rows = append(b.Rows, trend.Row{Scope: "waterBody", Name: "Water " + strconv.Itoa(10+i), Figures: trend.Figures{trend.Infested: int64(i)}})
	}
	h := assembled(t, []trend.Batch{b})
	svg := picture(t, h)
	for name, want := range map[string]bool{"Water 24": true, "Water 13": true, "Water 12": false, "trend.csv has the other 3": true} {
		if strings.Contains(svg, name) != want {
			t.Errorf("%s: %v", name, !want)
		}
	}
	if strings.Index(svg, "Water 24") > strings.Index(svg, "Water 13") {
		t.Error("the largest is not the first")
	}
}

func BenchmarkPicture(b *testing.B) {
	h := worked(b)
	for b.Loop() {
		_ = WriteTrend(io.Discard, h)
	}
}

// Every value of a measure has its P10 to P90 as a vertical bar of the right height. By hand: the
// live acres of 12, between 9 and 18, take 9 of a scale up to 24 (the largest P90) in a plot 210
// high. Without a range in the batch no bar is drawn.
func TestRangesOfThePicture(t *testing.T) {
	if n := strings.Count(picture(t, worked(t)), "class=\"range"); n != 0 {
		t.Errorf("%d ranges of none", n)
	}
	h := worked(t)
	for i := range h.Sections {
		for _, f := range h.Sections[i].Figures {
			f[measureOf(t, field.LiveAcresP10)], f[measureOf(t, field.LiveAcresP90)] = f[trend.Live]*3/4, f[trend.Live]*3/2
		}
	}
	all := withClass(elements(t, picture(t, h)), "range live")
	if len(all) != 2*20 {
		t.Fatalf("%d ranges, want 20 of the total and 20 of the stream", len(all))
	}
	height := func(e element) float64 {
		low, _ := strconv.ParseFloat(e.attrs["y1"], 64)
		high, _ := strconv.ParseFloat(e.attrs["y2"], 64)
		return low - high
	}
	top := scaleTo(16 * 1.5).Top
	if got, want := height(all[0]), 210*9/top; math.Abs(got-want) > 0.11 {
		t.Errorf("%v high, want %v", got, want)
	}
}
