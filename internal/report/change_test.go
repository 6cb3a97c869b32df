package report

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"driftreach/internal/survey"
	"driftreach/internal/trend"
)

// chain is three quarters in two units: the first of a chain, one with growth of 1 acre and 2 acres
// found, and one that shrank by 0.5 and lost 1.5, all cleared; 2 of the 4 remaining acres are
// carried.
func chain(t testing.TB) *trend.History {
	t.Helper()
	// in units of 1e-4 acre
	figures := func(infested, previous, observed, fresh, lost, cleared, carried int64) trend.Figures {
		f := trend.Figures{trend.Infested: infested * 1e4, trend.Gross: infested * 1e4}
		if previous == trend.Blank {
			for _, m := range trend.Parts() {
				f[m] = trend.Blank
			}
			return f
		}
		for m, v := range map[trend.Measure]int64{
			trend.Previous: previous, trend.Observed: observed, trend.New: fresh, trend.NotDetected: lost, trend.Cleared: cleared, trend.Carried: carried,
		} {
			f[m] = v * 1e4
		}
		return f
	}
	b := trend.Blank
	var batches []trend.Batch
	for k, f := range []trend.Figures{
		figures(30000, b, b, b, b, b, b), figures(60000, 30000, 10000, 20000, 0, 0, 0), figures(40000, 60000, -5000, 0, 15000, 15000, 20000),
	} {
		batches = append(batches, trend.Batch{Quarter: survey.Quarter{Year: 2026, Number: int8(k + 1)}, Rows: []trend.Row{
			{Scope: "total", Figures: f}, {Scope: "noStream", Figures: f},
			{Scope: "unit", Name: "East", UnitID: "u1", Figures: f}, {Scope: "unit", Name: "East", UnitID: "u2"}, {Scope: "outsideUnits"},
		}})
	}
	return assembled(t, batches)
}

// By hand: bars reach up to 3 acres and down to 2. With steps of 1 the scale has 5, so an acre is
// 130 / 5 = 26 of the picture. Gains are stacked above the line and losses below it; restated acres
// are with either.
func TestBarsOfChange(t *testing.T) {
	c := &canvas{}
	h := chain(t)
	for k, parts := range []map[trend.Measure]int64{
		1: {trend.New: 100, trend.FoundAgain: 50, trend.FirstLookedAt: 25, trend.Restated: 25}, // with 1 acre observed
		2: {trend.Observed: -40, trend.Restated: -10},
	} {
		for m, hundredths := range parts {
			h.Sections[0].Figures[k][m] = hundredths * trend.PerUnit / 100
		}
	}
	g := changes{x: 64, y: 714, w: 716, h: 130, section: &h.Sections[0]}
	g.draw(c, h)
	zero := 714 + 3*26.0
	var got []string
	for _, e := range elements(t, "<svg>"+string(c.b)+"</svg>") {
		if y, err := strconv.ParseFloat(e.attrs["y"], 64); e.name == "rect" && err == nil && e.attrs["width"] != "22" {
			high, _ := strconv.ParseFloat(e.attrs["height"], 64)
			got = append(got, e.attrs["class"]+" "+strconv.FormatFloat((zero-y)/26, 'f', 2, 64)+" "+strconv.FormatFloat(high/26, 'f', 2, 64))
		}
	}
	want := []string{
		"pale infested 1.00 1.00", "full gross 2.00 1.00", "pale gross 2.50 0.50", "hollow gross 2.75 0.25", "hollow infested 3.00 0.25",
		"pale infested 0.00 0.40", "hollow infested -0.40 0.10", "hollow canopy -0.50 1.50",
	}
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("%q, want %q", got, want)
	}
	for _, words := range []string{
		"observed +0.60", "new +1.00", "found again +0.50", "first looked at +0.25", "restated +0.15", "not detected −1.50", "of it cleared 1.50",
	} {
		if !strings.Contains(string(c.b), words) {
			t.Errorf("no %q", words)
		}
	}
}

// TestScaleOfChange: the values of the scale beside the bars, top last: gains of 3 acres and losses of 2,
// gains alone, losses alone, and neither. By hand.
func TestScaleOfChange(t *testing.T) {
	for name, c := range map[string]struct {
		gain, loss int64
		want       string
	}{
		"both": {3, 2, "−2 −1 0 +1 +2 +3"}, "gains": {3, 0, "0 +1 +2 +3"}, "losses": {0, 2, "−2.0 −1.5 −1.0 −0.5 0.0"}, "neither": {0, 0, "0.0 +0.2"},
	} {
		h := chain(t)
		for _, f := range h.Sections[0].Figures {
			for _, b := range bricks {
				f[b.measure] = 0
			}
		}
		h.Sections[0].Figures[1][trend.New], h.Sections[0].Figures[2][trend.NotDetected] = c.gain*trend.PerUnit, c.loss*trend.PerUnit
		drawn := &canvas{}
		g := changes{x: 64, y: 714, w: 716, h: 130, section: &h.Sections[0]}
		g.draw(drawn, h)
		var got []string
		for _, e := range elements(t, "<svg>"+string(drawn.b)+"</svg>") {
			if e.name == "text" && e.attrs["class"] == "soft end" {
				got = append(got, e.text)
			}
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
}

// By hand: the carried 2 of 4 acres are the upper half below the line at the last quarter, and
// nowhere else.
func TestCarriedIsHatchedUnderTheLine(t *testing.T) {
	h := chain(t)
	p := panel{x: 0, y: 0, w: 300, h: 60, section: &h.Sections[0]}
	s := scale{Top: 6, Step: 1}
	b, ok := p.bandAt(2, 3, s)
	if !ok || math.Abs(b.x-250)+math.Abs(b.top-20)+math.Abs(b.bottom-40) > 1e-9 {
		t.Errorf("%+v", b)
	}
	c := &canvas{}
	p.drawCarried(c, s, 3)
	// From half way to the previous quarter, where the line is at 5 acres.
	if want := `<path d="M200 10L250 20L250 40L200 30" class="carried infested"/>`; !strings.Contains(string(c.b), want) {
		t.Errorf("no %s in %s", want, c.b)
	}
	if n := strings.Count(string(c.b), "carried"); n != 1 {
		t.Errorf("%d hatched parts", n)
	}
	for _, line := range strings.Split(string(c.b), "M")[2:] {
		x, rest, _ := strings.Cut(line, " ")
		top, bottom, _ := strings.Cut(strings.SplitN(rest, `"`, 2)[0], "V")
		at, _ := strconv.ParseFloat(x, 64)
		from, _ := strconv.ParseFloat(top, 64)
		to, _ := strconv.ParseFloat(bottom, 64)
		if math.Abs(from-(10+(at-200)/5)) > 0.06 || math.Abs(to-from-20) > 0.11 {
			t.Errorf("hatch line at %v from %v to %v", at, from, to)
		}
	}
}

// Streams and units are distinguished, two units with the same name stay two, an empty outside is
// left out, and the text alternative describes the parts.
func TestPictureTellsOfUnitsAndParts(t *testing.T) {
	svg := picture(t, chain(t))
	for words, want := range map[string]int{
		"By stream, acres": 1, "By reporting unit, acres": 1, ">East<": 2, ">no stream<": 1, "outside all units": 0,
		"Change of infested acres from batch to batch, in all: observed 0.50, new 2.00, found again 0, first looked at 0, restated 0, not detected 1.50, of it cleared 1.50 acres.": 1,
		"Carried at the end, because nobody went there: 2.00 acres.": 1,
	} {
		if n := strings.Count(svg, words); n != want {
			t.Errorf("%q comes %d times, want %d", words, n, want)
		}
	}
	if strings.Contains(picture(t, gappy(t)), "hatch infested") {
		t.Error("something hatched where nothing is carried")
	}
}

// The first batch of a chain has no parts of change: blank, not 0.
func TestSeriesPartsOfTheFirstBatch(t *testing.T) {
	got := rows(t, SeriesTable(chain(t)))
	if got[0]["observed_change_acres"] != "" || got[2]["observed_change_acres"] != "-0.5" || got[2]["carried_acres"] != "2" || got[6]["unit_id"] != "u1" {
		t.Errorf("%v\n%v\n%v", got[0], got[2], got[6])
	}
}
