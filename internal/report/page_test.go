package report

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/trend"
)

// Whatever the texts of the field, the page is one well-formed document of the
// elements the program writes, asks for nothing from outside and runs nothing.
// What an HTML parser would see differently an XML one refuses.
func TestPageHoldsHostileTexts(t *testing.T) {
	plain := elements(t, printed(t, invented(3, 5, []string{"Side Water", "Long Water", "High Water"}), gappy(t)))
	page := printed(t, invented(15, 2, hostile), gappy(t))
	known := map[string]bool{}
	for _, e := range plain {
		known[e.name] = true
	}
	for _, e := range elements(t, page) {
		if !known[e.name] {
			t.Errorf("element %s came in with a text", e.name)
		}
		for name, value := range e.attrs {
			if strings.HasPrefix(name, "on") || name == "src" || name == "style" || name == "href" && !strings.HasPrefix(value, "#") {
				t.Errorf("%s has %s=%q", e.name, name, value)
			}
		}
	}
	for _, bad := range []string{"<script", "@import", "url(http", "://www.", "data:"} {
		if strings.Contains(strings.ReplaceAll(page, "http://www.w3.org/1999/xhtml", ""), bad) {
			t.Errorf("%s in the page", bad)
		}
	}
	if strings.ContainsAny(page, "\x07\u0085\uffff\ufdd0") {
		t.Error("characters that HTML does not hold")
	}
}

// By WCAG 2.2: a title, one h1, headings without a jump, one main, every table
// with caption and scopes, every picture with name and description, every
// reference resolved, no id twice.
func TestPageCanBeHeard(t *testing.T) {
	all := elements(t, printed(t, invented(3, 5, []string{"Side Water"}), gappy(t)))
	ids, count := map[string]bool{}, map[string]int{}
	var refs []string
	level := 0
	for i, e := range all {
		count[e.name]++
		if id, ok := e.attrs["id"]; ok {
			if ids[id] {
				t.Errorf("id %s twice", id)
			}
			ids[id] = true
		}
		refs = append(refs, strings.Fields(e.attrs["aria-labelledby"])...)
		if href, ok := e.attrs["href"]; ok {
			refs = append(refs, strings.TrimPrefix(href, "#"))
		}
		switch e.name {
		case "h1", "h2", "h3":
			next := int(e.name[1] - '0')
			if next > level+1 {
				t.Errorf("%s after h%d", e.name, level)
			}
			level = next
		case "th":
			if e.attrs["scope"] == "" {
				t.Errorf("th without scope: %+v", e)
			}
		case "table":
			if all[i+1].name != "caption" || all[i+1].text == "" {
				t.Errorf("table %s without caption", e.attrs["id"])
			}
		case "svg":
			hidden := e.attrs["aria-hidden"] == "true"
			named := e.attrs["role"] == "img" && all[i+1].name == "title" && all[i+2].name == "desc" && all[i+1].text != "" && all[i+2].text != ""
			if !hidden && !named {
				t.Errorf("svg without name: %+v", e)
			}
		}
	}
	for _, ref := range refs {
		if !ids[ref] {
			t.Errorf("no element %s", ref)
		}
	}
	if count["h1"] != 1 || count["main"] != 1 || count["title"] < 1 || all[0].attrs["lang"] != "en" {
		t.Errorf("%v", count)
	}
}

// figures returns the values of the data elements, in order.
func figures(t testing.TB, page string) []string {
	var out []string
	for _, e := range elements(t, page) {
		if e.name == "data" {
			out = append(out, e.attrs["value"])
		}
	}
	return out
}

// The page's figures are the summary's, to the last digit: headline and total.
func TestPageHasTheSummarysFigures(t *testing.T) {
	run := invented(3, 5, []string{"Side Water", "Long Water", "High Water"})
	summary := newSheet(run, result.SummaryTable(run, result.Summarize(run)))
	values := figures(t, printed(t, run, nil))
	for i, name := range []string{"live_acres", "infested_acres", "", "gross_acres", "canopy_acres", "stands", "aquatic_zone_stands", "reach_at_risk_km"} {
		if want := summary.cell(total, name).String(); values[i] != want {
			t.Errorf("%s: %s, want %s", name, values[i], want)
		}
	}
	page := Compose(run, Sources{})
	for _, row := range append(slices.Clone(page.Places.Rows), page.Places.Foot...) {
		if len(row.Cells) != len(page.Places.Head) {
			t.Errorf("%d cells under %d heads", len(row.Cells), len(page.Places.Head))
		}
	}
}

// The rows of the table by place add up to its total, those put together
// included.
func TestPlacesAddUp(t *testing.T) {
	var names []string
	for i := range 25 {
		names = append(names, fmt.Sprint("Water ", i))
	}
	places := Compose(invented(25, 3, names), Sources{}).Places
	if len(places.Rows) != mostPlaces || places.Rows[mostPlaces-1].Cells[0].Text != fmt.Sprintf("the other %d streams", 25-mostPlaces+1) {
		t.Fatalf("%d rows, the last %q", len(places.Rows), places.Rows[len(places.Rows)-1].Cells[0].Text)
	}
	for col := 1; col < len(places.Head); col++ {
		sum := 0.0
		for _, row := range places.Rows {
			v, err := strconv.ParseFloat(row.Cells[col].Number.Exact, 64)
			if err != nil {
				t.Fatal(err)
			}
			sum += v
		}
		if want := places.Foot[0].Cells[col].Number.Exact; strconv.FormatFloat(sum, 'f', 4, 64) != fourDecimals(t, want) {
			t.Errorf("%s: %v, total %s", places.Head[col].Label, sum, want)
		}
	}
}

func fourDecimals(t *testing.T, s string) string {
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return strconv.FormatFloat(v, 'f', 4, 64)
}

// By hand: digits in groups of three, a minus that is one.
func TestOnPaper(t *testing.T) {
	for text, want := range map[string]string{"0": "0", "20.90": "20.90", "-20.91": "−20.91", "1234567.89": "1\u202f234\u202f567.89", "-1234": "−1\u202f234", "<-0.1": "<−0.1", "0.00123": "0.00123"} {
		if got := onPaper(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}

// A verdict for each direction, in words with p; the texts of the numbers are
// those of the trend's tests.
func TestVerdict(t *testing.T) {
	say := func(h *trend.History) string {
		return strings.Join(Compose(invented(1, 1, []string{"Side Water"}), Sources{History: h}).Verdict, " ")
	}
	for name, c := range map[string]struct {
		history *trend.History
		want    string
	}{
		"none":    {nil, `^The trend begins with this quarter`},
		"falling": {worked(t), `^Live acreage is falling over 20 quarters from 2021Q1 to 2025Q4: −0\.56 acres a year \(Seasonal Kendall, p below 0\.0001\)\. On the ground known now live acres went from 12\.00 to 12\.00\. For all infested acres, with treated and dead ones: falling, −0\.56 acres a year, p < 0\.0001\. p is .*\. The verdict rests on changes .*\. Neighbouring quarters .*\. Acreage also moves with survey effort`},
		"flat":    {gappy(t), `^No trend shows in live acreage over 5 quarters from 2024Q1 to 2025Q2 \(in 1 quarter between them nobody looked\) \(Mann-Kendall, p = 1\)\. On the ground known now live acres went from 0 to 0\. For all infested acres, with treated and dead ones: no trend shown, 0 acres a year, p = 1\. The verdict rests on changes between the last two looks at each place, in 5 quarters with a look \(1 without\)\. Neighbouring quarters are taken`},
	} {
		if got := say(c.history); !regexp.MustCompile(c.want).MatchString(got) {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// By hand, from the sentences of followup's own tests.
func TestTodo(t *testing.T) {
	for what, want := range map[string]string{
		"treat the regrowth again by 2026-09-30":                                               "treat the regrowth again",
		"look again by 2026-09-30: clear in 1 of 5 years":                                      "look again: clear in 1 of 5 years",
		"treat, number 3 in the order; look again by 2026-09-30 at what was treated":           "look again at what was treated",
		"treat the regrowth again by 2026-09-30; look again by 2027-02-01 at what was treated": "treat the regrowth again",
	} {
		if got := todo(what, "2026-09-30"); got != want {
			t.Errorf("%q: %q, want %q", what, got, want)
		}
	}
}

// Water use is two figures and both their origins.
func TestWaterUseIsARange(t *testing.T) {
	words := strings.Join(Compose(invented(1, 4, []string{"Side Water"}), Sources{}).Water, " ")
	// four stands of 1.25 and 20.5 acre-feet
	for _, want := range []string{"between 5.0 and 82.0 acre-feet", "Triana et al. 2015", "[P]", "[C]"} {
		if !strings.Contains(words, want) {
			t.Errorf("no %q in %s", want, words)
		}
	}
}

// The same run gives the same bytes, and a region of 40 000 stands and 20 000
// lines stays below 2 MB.
func TestPageIsBounded(t *testing.T) {
	small := invented(3, 5, hostile)
	if first, again := printed(t, small, nil), printed(t, small, nil); first != again {
		t.Error("not the same bytes again")
	}
	if testing.Short() {
		t.Skip("a region takes seconds")
	}
	page := printed(t, invented(20_000, 2, []string{"Side Water", "Long Water"}), nil)
	if len(page) > 2_000_000 {
		t.Errorf("%d bytes", len(page))
	}
	if !strings.Contains(page, "Streams below order") || !strings.Contains(page, "map.kmz has them all") {
		t.Error("it does not say what it leaves out")
	}
}

// A run without stands and streams is a page too.
func TestPageOfNothing(t *testing.T) {
	page := printed(t, &result.Run{Quarter: invented(1, 1, hostile).Quarter, Stages: []result.Stage{{}}}, nil)
	for _, want := range []string{"No plant was found this quarter.", "Plants that nobody found are in no figure.", "No stand is on the map, so none asks for treatment", "No visit is due", "No planned works were given", "No findings: nothing", "no earlier quarter"} {
		if !strings.Contains(strings.ToLower(page), strings.ToLower(want)) {
			t.Errorf("no %q", want)
		}
	}
	elements(t, page)
}

func BenchmarkPage(b *testing.B) {
	run := invented(20_000, 2, []string{"Side Water", "Long Water"})
	for b.Loop() {
		printed(b, run, nil)
	}
}

// By hand: of two stands one was carried over, the other is new; nothing else
// changed. Every digit is shown, with its sign, and the parts add up.
func TestChangeAddsUp(t *testing.T) {
	run := invented(1, 2, []string{"Side Water"})
	run.Stands[0].Infested, run.Stands[1].Infested = 2*4046.8564224, 3*4046.8564224
	run.Previous = &result.Previous{
		Quarter: run.Quarter.Previous(), Known: []lineage.Known{{Stand: run.Stands[0].Stand}}, Looks: make([]lineage.Look, 1),
		Fates: []lineage.Change{lineage.NotResurveyed}, Home: []int32{0}, Restated: []int64{run.Stands[0].Infested.Grains()},
		Then: []result.Then{{Infested: run.Stands[0].Infested.Grains()}},
	}
	run.Stands[0].CarriedFrom, run.Stands[0].Change, run.Stands[0].Parents = run.Quarter.Previous(), lineage.NotResurveyed, []int32{0}
	run.Stands[0].Parts.Carried, run.Stands[1].Parts.Own = run.Stands[0].Infested.Grains(), run.Stands[1].Infested.Grains()
	change := Compose(run, Sources{}).Change
	var got []string
	for _, row := range append(slices.Clone(change.Grid.Rows), change.Grid.Foot...) {
		got = append(got, row.Cells[1].Number.Shown)
	}
	if want := []string{"2.00", "0", "0", "+3.00", "0", "0", "0", "5.00", "2.00"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if !strings.HasPrefix(change.Note, "1 stand was not looked at in full this quarter") {
		t.Error(change.Note)
	}
	page := printed(t, run, nil)
	for _, want := range []string{"class=\"unseen\"", "carried: nobody went there", "not looked at since 2026Q2", "<data value=\"3\">+3.00</data>"} {
		if !strings.Contains(page, want) {
			t.Errorf("no %q", want)
		}
	}
}

// By hand: what a stand had before and has no longer, or has again, is told beside the change
// observed, unless it is less than a tenth of it or goes the other way.
func TestMissedOrGone(t *testing.T) {
	const acre = 4046.8564224
	for _, c := range []struct {
		before, now, ever, lost float64 // acres; ever as of now, lost as of the quarter before
		want                    string
	}{
		{2, 3, 4, 2, "the acres no longer found fell from 2.00 in 2026Q2 to 1.00: they were missed in 2026Q2, or have grown again."},
		{3, 2, 4, 1, "the acres no longer found rose from 1.00 in 2026Q2 to 2.00: they are gone, or were missed this quarter."},
		{2, 3, 3, 0, ""}, {2, 3, 3, 0.05, ""}, {2, 3, 3, 0.1, "fell from 0.10 in 2026Q2 to 0: "},
		{3, 2, 2.05, 0, ""}, {3, 2, 2.1, 0, "rose from 0 in 2026Q2 to 0.10: "}, {3, 2, 2, 1, ""}, {2, 2, 2, 1, ""},
	} {
		run := invented(1, 1, []string{"Side Water"})
		stand := &run.Stands[0]
		stand.Infested = geo.SquareMeters(c.before * acre)
		then := stand.Infested.Grains()
		run.Previous = &result.Previous{
			Quarter: run.Quarter.Previous(), Known: []lineage.Known{{Stand: stand.Stand}}, Looks: make([]lineage.Look, 1), Fates: make([]lineage.Change, 1),
			Home: []int32{0}, Restated: []int64{then}, Then: []result.Then{{Infested: then}}, Links: []lineage.Link{{}},
		}
		stand.Infested, stand.Change, stand.Parents = geo.SquareMeters(c.now*acre), lineage.Kept, []int32{0}
		stand.Parts.Own, stand.Memory.Ever = stand.Infested.Grains(), geo.SquareMeters(c.ever*acre).Grains()
		row, err := result.ReadEver([]string{"2026Q2", result.NoLongerFound, "0", fmt.Sprintf("%.5f", c.lost)})
		if err != nil {
			t.Fatal(err)
		}
		run.EverBefore = []result.EverRow{row}
		note := Compose(run, Sources{}).Change.Note
		if strings.Contains(note, "no longer found") != (c.want != "") || !strings.Contains(note, c.want) {
			t.Errorf("%v to %v acres: %s", c.before, c.now, note)
		}
	}
}

// By hand: gappy has 1, 2, none, 4, 5 and 6 gross acres and half an acre infested
// in each; a fifth of an acre carried in 2024Q2 is drawn apart from the three
// tenths seen, and the third quarter stays open.
func TestChartShowsCarriedApart(t *testing.T) {
	h := gappy(t)
	h.Sections[0].Figures[1][trend.Carried] = trend.PerUnit / 5
	page := Compose(invented(1, 1, []string{"Side Water"}), Sources{History: h})
	all := elements(t, string(page.Charts[0].SVG))
	height := func(class string, k int) float64 {
		v, err := strconv.ParseFloat(withClass(all, class)[k].attrs["height"], 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	if bars, hatched, gaps := len(withClass(all, "bar")), len(withClass(all, "carried")), len(withClass(all, "gap")); bars != 5 || hatched != 1 || gaps != 1 {
		t.Fatalf("%d bars, %d hatched, %d gaps", bars, hatched, gaps)
	}
	// lengths are written to a tenth
	if whole := height("bar", 0); math.Abs(height("bar", 1)-0.6*whole) > 0.11 || math.Abs(height("carried", 0)-0.4*whole) > 0.11 {
		t.Errorf("of %v, %v and %v", whole, height("bar", 1), height("carried", 0))
	}
	row := page.Quarters.Rows[1]
	if row.Cells[0].Text != "2024Q2" || row.Cells[1].Number.Exact != "0.2" || row.Cells[2].Number.Exact != "0" || row.Cells[3].Number.Exact != "0.5" {
		t.Errorf("%+v", row)
	}
}

// Every work near a stand has its row, with the nearest stand and how far it is; a
// note says of how many the people need a warning.
func TestWorksToWarn(t *testing.T) {
	texts := []string{"culvert repair", "trail building", "bank mowing"}
	page := Compose(invented(1, 3, texts), Sources{})
	if n := len(page.Works.Rows); n != 3 {
		t.Fatalf("%d rows, want 3", n)
	}
	for i, row := range page.Works.Rows {
		name, near := row.Cells[0].Text, row.Cells[4].Text
		if want := fmt.Sprintf("2026Q3-%04d, 12 m away", i+1); !strings.HasPrefix(name, texts[i]) || near != want {
			t.Errorf("row %d: %q, %q, want %q, %q", i, name, near, texts[i], want)
		}
	}
	if notes := strings.Join(page.WorksNotes, " "); !strings.Contains(notes, "Warn the people of 3 of 3 planned works.") {
		t.Error(notes)
	}
}

// The page of a public edition says so under its title, and neither that nobody was
// named, where contacts are left out, nor that there is a calendar, which it has not.
func TestPublicPage(t *testing.T) {
	const calendar = "followup.ics"
	run := invented(1, 3, []string{"bank mowing"})
	if whole := Compose(run, Sources{}); strings.Contains(strings.Join(whole.Intro, " "), "Public edition") || !strings.Contains((&composer{run: run}).visitNote(9), calendar) {
		t.Error("a whole batch has a public edition's page")
	}
	run.Coarse, run.Works[0].Contact = 1000, ""
	page := Compose(run, Sources{})
	if intro := page.Intro[len(page.Intro)-1]; !strings.HasPrefix(intro, "Public edition: places are coarsened to squares of 1000 m") || strings.Contains(strings.Join(page.Cautions, " "), "Public edition") {
		t.Errorf("%q, %q: want it once", intro, page.Cautions)
	}
	if to := page.Works.Rows[0].Cells[2].Text; to != "left out here" {
		t.Errorf("whom to tell: %q", to)
	}
	if note := (&composer{run: run}).visitNote(9); strings.Contains(note, calendar) {
		t.Error(note)
	}
}

// A ring is drawn about each stand that nobody went to and about no other, and the
// legend reports it where there is one.
func TestCarriedStandsHaveARing(t *testing.T) {
	for carried := range 4 {
		run := invented(1, 3, []string{"Side Water"})
		for i := range carried {
			run.Stands[i].CarriedFrom = run.Quarter.Previous()
		}
		m := &mapDrawing{view: newView(run, widePixels)}
		m.drawStands(run)
		rings := 0
		for _, e := range elements(t, "<svg>"+string(m.b)+"</svg>") {
			if e.attrs["class"] == "unseen" {
				rings += strings.Count(strings.ToUpper(e.attrs["d"]), "M")
			}
		}
		page := printed(t, run, nil)
		if legend := strings.Contains(page, "carried: nobody went there"); rings != carried || legend != (carried > 0) {
			t.Errorf("%d carried: %d rings, legend %v", carried, rings, legend)
		}
	}
}

// The page begins with the acreage in plain words, which way it goes, and what it rests
// on; no p among them. Of the worked history by hand.
func TestHeadline(t *testing.T) {
	for name, c := range map[string]struct {
		history *trend.History
		want    string
	}{
		"none":    {nil, `^[\d.]+ acres are live this quarter \([\d.]+ to [\d.]+, allowing for error\)\. All infested acres were looked at this quarter\. No acres rest on an assumed patch\. \d+ visits? (is|are) due by the end of 2026Q4, \d+ overdue\.$`},
		"falling": {worked(t), `allowing for error\); on ground seen both times they are falling by 0\.56 acres a year\.`},
		"flat":    {gappy(t), `allowing for error\); on ground seen both times no trend shows\.`},
	} {
		got := strings.Join(Compose(invented(1, 1, []string{"Side Water"}), Sources{History: c.history}).Headline, " ")
		if !regexp.MustCompile(c.want).MatchString(got) || strings.Contains(got, "p =") {
			t.Errorf("%s: %s", name, got)
		}
	}
}

// A cell that no row or no field has is blank, and a table of no rows tells nothing; by hand.
func TestCellsBesideTheTable(t *testing.T) {
	one := newSheet(&result.Run{}, result.Table{Rows: 1, Fields: []result.Field{{Name: "a", Value: func(_ *result.Run, i int) result.Value { return result.OfCount(7 + i) }}}})
	if got := [3]string{one.cell(0, "a").String(), one.cell(1, "a").String(), one.cell(0, "b").String()}; got != [3]string{"7", "", ""} {
		t.Errorf("%q", got)
	}
	if one.tells("b") || !one.tells("a") || one.text(1, "a") != "" || one.text(0, "a") != "7" {
		t.Error("what the table has not is told")
	}
	none := newSheet(&result.Run{}, result.Table{Fields: one.table.Fields})
	if none.tells("a") {
		t.Error("a table without rows tells its total")
	}
}
