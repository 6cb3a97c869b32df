package learn

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/estimate"
	"driftreach/internal/report"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// Each answer about the map of risk, in the order in which the reasons count.
func TestVerdictOnRisk(t *testing.T) {
	at := func(ground float64, ratio estimate.Interval) []ClassShare {
		return []ClassShare{{}, {Ground: ground, Ratio: ratio}}
	}
	wide := estimate.Interval{Value: 1, Low: 0.5, High: 2}
	for says, r := range map[string]Risk{
		"Too little data: no stream was looked at twice.":                               {},
		"Too little data: 1 new stand was found on ground looked at before. It takes":   {LookedKm: 1, Needed: 9, Counted: 1},
		"Too little data: 4 new stands were found on ground":                            {LookedKm: 1, Needed: 6, Counted: 4},
		"Nothing can be said: 91 % of the stream that was looked at is at risk":         {LookedKm: 1, Classes: at(0.91, wide)},
		"It does: new stands came more often":                                           {LookedKm: 1, Classes: at(0.9, estimate.Interval{Value: 2, Low: 1.01, High: 3})},
		"It does not: new stands came less often":                                       {LookedKm: 1, Classes: at(0.5, estimate.Interval{Value: 0.5, Low: 0.1, High: 0.99})},
		"Partly: it is not certain":                                                     {LookedKm: 1, Classes: at(0.5, wide), Curve: estimate.ROC{Area: estimate.Interval{Value: 0.7, Low: 0.51, High: 0.9}}},
		"It cannot tell: new stands may be as frequent on stream at risk as elsewhere.": {LookedKm: 1, Classes: at(0.5, wide), Curve: estimate.ROC{Area: estimate.Interval{Value: 0.7, Low: 0.5, High: 0.9}}},
	} {
		if got := r.verdict(); !strings.HasPrefix(got, says) {
			t.Errorf("%q, want %q", got, says)
		}
	}
	r := Risk{Arrivals: []Arrival{{Kind: Hit}, {Kind: Clonal}, {Kind: Upland}, {Kind: Clonal}, {Kind: TooTall}, {Kind: Unseen}}}
	if got := r.asideWords(); got != "The batches have 6 new stands; not counted are 1 off the water, 2 near a known stand, 1 too tall to be new, 1 no look before. They are in new_stands.csv." {
		t.Error(got)
	}
	r.Arrivals = r.Arrivals[:1]
	if got := r.asideWords(); got != "The batches have 1 new stand; all count." {
		t.Error(got)
	}
}

// Each answer about the half-distance: supported where p, number and both bounds allow it; not
// supported where there are as many as are needed; else how many it takes.
func TestVerdictOnDistance(t *testing.T) {
	s := estimate.Spreading{Counts: []float64{40, 0}, Ground: []float64{1, 1}, Scales: []float64{1}, Down: [][]float64{{1, 0}}, Up: [][]float64{{0, 1}}, Draws: 199, Seed: 1}
	for _, tt := range []struct {
		counted int
		want    Verdict
	}{{9, TooLittle}, {10, NotSupported}, {40, NotSupported}} { // eight are needed; one scale alone has no bounds
		d := Distance{Counted: tt.counted}
		if d.judge(&s); d.Verdict != tt.want || d.Needed != 8 || d.Scale.P > sureOf {
			t.Errorf("%d counted: %v, %g needed, p %g", tt.counted, d.Verdict, d.Needed, d.Scale.P)
		}
	}
	// three sources on a hundred rows, and stands below them as at a half-distance of four rows, less what rounding takes
	// from the ends: four is the nearest step
	line := estimate.Spreading{Counts: make([]float64, 100), Ground: slices.Repeat([]float64{1}, 100), Scales: []float64{1, 2, 4, 8, 16}, Draws: 199, Seed: 1}
	for _, half := range line.Scales {
		down, up := make([]float64, 100), make([]float64, 100)
		for i := range down {
			for _, source := range []int{10, 40, 70} {
				if far := float64(i - source); far > 0 {
					down[i] += math.Exp2(-far / half)
				} else if far < 0 {
					up[i] += math.Exp2(far / half)
				}
			}
		}
		line.Down, line.Up = append(line.Down, down), append(line.Up, up)
	}
	for i, law := range line.Down[2] {
		line.Counts[i] = math.Round(4 * law)
	}
	for counted, want := range map[int]Verdict{10: Supported, 9: TooLittle} {
		d := Distance{Counted: counted}
		if d.judge(&line); d.Verdict != want || math.Abs(math.Log2(d.Scale.Scale.Value/4)) > 0.5 || !holds(d.Scale.Scale, 4) || !d.Scale.Scale.Finite() || d.Scale.P > sureOf {
			t.Errorf("%d counted: %v, %+v, p %g", counted, d.Verdict, d.Scale.Scale, d.Scale.P)
		}
	}
	for want, d := range map[string]Distance{
		"It takes new stands on ground that was looked at before.": {}, "On the stream that was looked at, drift and spread to both sides look the same": {Counted: 3, Needed: math.Inf(1)},
		"With the stream that was looked at, it takes about 30.": {Counted: 29, Needed: 30}, "With the stream that was looked at, it takes about 10.": {Counted: 9, Needed: 5},
		"They do not bound the half-distance on both sides.": {Counted: 30, Needed: 30},
	} {
		if got := d.neededWords(); !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := steps(); len(got) != 25 || got[0] != 0.125 || got[24] != 8 || got[12] != 1 || math.Abs(got[13]-1.189207) > 1e-6 {
		t.Errorf("factors %v", got)
	}
	d := Distance{Assumed: []geo.Kilometers{0.5, 2}}
	if got := d.HalfDistances(1.5); !slices.Equal(got, []geo.Kilometers{0.75, 3}) {
		t.Errorf("half-distances %v", got)
	}
	for v, want := range map[Verdict]string{TooLittle: "too little data", NotSupported: "not supported", Supported: "supported"} {
		if v.String() != want {
			t.Errorf("%s, want %s", v, want)
		}
	}
	// a factor of 1/8 is at the left edge, 1 in the middle and 8 at the right; 6 below the best is half way down
	d = Distance{Scales: []float64{0.125, 1, 8}, Scale: estimate.Scale{Profile: []float64{6, 0, 12}}}
	if got := fmt.Sprint(d.picture().Lines[1].At); got != "[[0 0.5] [0.5 1] [1 0]]" {
		t.Errorf("drawn as %s", got)
	}
}

// Figures in words, by hand.
func TestWordsOfFigures(t *testing.T) {
	for _, tt := range []struct {
		x      float64
		digits int
		want   string
	}{{0, 3, "0"}, {1234.5, 2, "1234"}, {1.2345, 3, "1.23"}, {0.012345, 3, "0.0123"}, {-0.5, 2, "-0.50"}, {9.999, 3, "10.00"}, {1e-9, 3, "0.000000"}, {math.NaN(), 3, "unknown"}, {math.Inf(1), 3, "unknown"}} {
		if got := figure(tt.x, tt.digits); got != tt.want {
			t.Errorf("%g to %d digits: %s, want %s", tt.x, tt.digits, got, tt.want)
		}
	}
	for share, want := range map[float64]string{0.995: "over 99 %", 0.9949: "99 %", 1.2: "120 %", 0.0999: "10.0 %", 0.1: "10 %", 0.03: "3 %", -0.055: "-5.5 %", math.NaN(): "unknown"} {
		if got := percent(share); got != want {
			t.Errorf("%g: %s, want %s", share, got, want)
		}
	}
	if got := numbers([]float64{0.35, 1.5, 2, 10, 0.1234}); got != "[0.35, 1.5, 2, 10, 0.123]" {
		t.Error(got)
	}
	if plural(1, "row") != "1 row" || plural(0, "row") != "0 rows" || plain(2.5) != "2.5" || placesWere(1) != "there is 1 place" || placesWere(2) != "there are 2 places" || wereStands(1) != "1 stand was" || wereStands(0) != "0 stands were" {
		t.Error("a number of one or of many")
	}
	if got := times(estimate.Interval{Value: 2, Low: 1.5, High: 3.25}); got != "2.00 (1.50 to 3.25)" {
		t.Error(got)
	}
}

// Options past their limits are refused by their words.
func TestOptionsValidate(t *testing.T) {
	if err := DefaultOptions().Validate(); err != nil {
		t.Error(err)
	}
	if DefaultOptions() != (Options{Clonal: 10, Tall: 4, Later: 30, Before: 0.5, Certainty: 0.95, Draws: 199, Seed: 1}) {
		t.Errorf("%+v", DefaultOptions())
	}
	for _, fine := range []func(o *Options){func(o *Options) { o.Clonal = 0 }, func(o *Options) { o.Clonal = 1000 }, func(o *Options) { o.Tall = 100 }, func(o *Options) { o.Later = 1 }, func(o *Options) { o.Later = 365 }, func(o *Options) { o.Certainty = 0.5 }} {
		o := DefaultOptions()
		if fine(&o); o.Validate() != nil {
			t.Errorf("%+v: %v", o, o.Validate())
		}
	}
	for word, bads := range map[string][]func(o *Options){
		"clonal": {func(o *Options) { o.Clonal = -1 }, func(o *Options) { o.Clonal = 1001 }, func(o *Options) { o.Clonal = geo.Meters(math.NaN()) }}, "height": {func(o *Options) { o.Tall = 0 }, func(o *Options) { o.Tall = 101 }},
		"days": {func(o *Options) { o.Later = 0 }, func(o *Options) { o.Later = 366 }}, "probability": {func(o *Options) { o.Before = 0 }, func(o *Options) { o.Before = 1 }},
		"certainty": {func(o *Options) { o.Certainty = 0.49 }, func(o *Options) { o.Certainty = 1 }},
	} {
		for i, bad := range bads {
			o := DefaultOptions()
			if bad(&o); o.Validate() == nil || !strings.Contains(o.Validate().Error(), word) {
				t.Errorf("%s %d: %v", word, i, o.Validate())
			}
		}
	}
}

// A whole answer from the creek: its page has every part with what its figures say, and its tables
// the same numbers.
func TestAnswerOfTheCreek(t *testing.T) {
	c := creek(t)
	c.add(t, 2026, 1, map[int]int{2: 3, 12: 3}, 1)
	c.add(t, 2026, 2, map[int]int{2: 3, 12: 3}, 1)
	a, err := c.Ask(context.Background(), nil, DefaultOptions(), 1)
	if err != nil {
		t.Fatal(err)
	}
	if a.Km < 0.999 || a.Km > 1.001 || len(a.Quarters) != 2 || a.Risk.LookedKm != 0.1 || a.Distance.Counted != 0 || len(a.Lines) < 2 || a.Lines[0].Class != "water" {
		t.Errorf("%+v", a)
	}
	page := a.Page("1")
	var ids []string
	for _, part := range page.Parts {
		ids = append(ids, part.ID)
	}
	if !slices.Equal(ids, []string{"risk", "distance", "treatment", "gone", "growth"}) || page.Title != "What the history of 2026Q1 to 2026Q2 says" || page.Days != "2 batches, 2026Q1 to 2026Q2" {
		t.Errorf("%v, %s, %s", ids, page.Title, page.Days)
	}
	a.Quarters = a.Quarters[:1]
	if got := a.Page("1"); got.Title != "What the history of 2026Q1 says" || got.Days != "1 batch, 2026Q1" && got.Days != "1 batchs, 2026Q1" {
		t.Errorf("%s, %s", got.Title, got.Days)
	}
	var adopt bytes.Buffer
	if err := a.WriteAdopt(&adopt); err != nil || strings.Contains(adopt.String(), "\nefficacy") {
		t.Errorf("%v: %s", err, adopt.String())
	}
}

// The half-distance from the looks at the creek: where nothing counts there is none, where ten came
// below the stand the model of the longest drift has them all, and the tables and the page tell of it.
func TestDistanceOnTheCreek(t *testing.T) {
	c := creek(t)
	all := map[int]int{}
	for cell := range 20 {
		all[cell] = 3
	}
	c.add(t, 2026, 1, all, 1)
	c.add(t, 2026, 2, all, 1)
	looks, rules := c.looks(), c.Batches[0].Rules.Drift
	var arrivals []Arrival
	for i := range looks {
		if looks[i].cell >= 10 {
			arrivals = append(arrivals, Arrival{StandID: "n", Kind: Hit, Look: int32(i), Quarter: c.Batches[1].Quarter})
		}
	}
	o := DefaultOptions()
	d, err := c.distance(t.Context(), looks, append(arrivals, Arrival{Kind: Clonal, Look: 1}), rules, o, 2)
	if err != nil || d.Counted != 10 || len(d.Assumed) != len(rules.HalfDistanceByOrder) || math.Abs(d.Scale.Directed+d.Scale.Either+d.Scale.Ground-10) > 1e-5 || d.Scale.Directed < 9 || d.Scale.P > sureOf {
		t.Fatalf("%+v, %v", d, err)
	}
	if best := d.Scale.Scale; best.Value != 8 || !math.IsInf(best.High, 1) || d.Verdict != NotSupported { // as many in every cell: the longest drift of all
		t.Errorf("%v, %+v", d.Verdict, best)
	}
	stopped, stop := context.WithCancel(t.Context())
	stop()
	if _, err := c.distance(stopped, looks, arrivals, rules, o, 1); err == nil {
		t.Error("it goes on after it was stopped")
	}
	if d, err := c.distance(t.Context(), looks, nil, rules, o, 1); err != nil || d.Counted != 0 || d.Scale.Profile != nil || !math.IsInf(d.Needed, 1) {
		t.Errorf("nothing counted: %+v, %v", d, err)
	}

	a := &Answer{Quarters: []survey.Quarter{{Year: 2026, Number: 1}}, Options: o, Distance: d, Lines: c.lines(), Risk: c.risk(looks, arrivals, rules)}
	part, risk := a.distancePart(), a.riskPart()
	if len(part.Pictures) != 1 || len(part.Text) != 2 || !strings.Contains(part.Text[1], fmt.Sprintf("puts %s of 10 new stands down to drift", figure(d.Scale.Directed, 2))) {
		t.Errorf("%+v", part.Text)
	}
	shares := *a // each number with two digits
	shares.Distance.Scale.Directed, shares.Distance.Scale.Either, shares.Distance.Scale.Ground = 6.543, 2.345, 1.112
	if text := shares.distancePart().Text[1]; !strings.Contains(text, "puts 6.5 of 10 new stands down to drift, 2.3 to spread both up and down the water, and 1.1 to arrivals from elsewhere") {
		t.Error(text)
	}
	if len(risk.Pictures) != 2 || len(risk.Pictures[0].Marks) != 10 || risk.Pictures[0].Marks[0].Miss || len(risk.Pictures[1].Lines[1].At) != len(a.Risk.Curve.Points) {
		t.Errorf("%d pictures", len(risk.Pictures))
	}
	chance, bound := risk.Pictures[1].Lines[0], part.Pictures[0].Lines[0]
	if fmt.Sprint(chance.At) != "[[0 0] [1 1]]" || !chance.Dashed || !bound.Dashed || bound.At[0][1] != bound.At[1][1] || math.Abs(bound.At[0][1]-(1-3.841459/12)) > 1e-9 || bound.At[0][0] != 0 || bound.At[1][0] != 1 {
		t.Errorf("chance is drawn as %v, the limit of the interval as %v", chance, bound)
	}
	for _, axis := range []report.Axis{risk.Pictures[1].X, risk.Pictures[1].Y, part.Pictures[0].X, part.Pictures[0].Y} {
		for _, tick := range axis.Ticks { // each is where its number lies
			var share float64
			if _, err := fmt.Sscanf(tick.Label, "%g %%", &share); err == nil && math.Abs(tick.At-share/100) > 1e-12 {
				t.Errorf("%s at %g", tick.Label, tick.At)
			}
			var over float64
			if n, _ := fmt.Sscanf(tick.Label, "1/%g", &over); n == 1 && math.Abs(tick.At-(3-math.Log2(over))/6) > 1e-12 {
				t.Errorf("%s at %g", tick.Label, tick.At)
			}
		}
	}
	tables := map[string]result.Table{}
	for _, table := range Tables(a) {
		tables[table.Name] = table
	}
	half := tables["half_distance"]
	if half.Rows != 25 || half.Fields[0].Value(nil, 0).Float() != 0.125 || half.Fields[1].Value(nil, 24).Float() != 0 {
		t.Errorf("%d factors", half.Rows)
	}
	roc, came := tables["roc"], tables["risk_came_true"]
	if n := roc.Rows; n != len(a.Risk.Curve.Points) || roc.Fields[0].Value(nil, n-1).Float() != 1 || roc.Fields[1].Value(nil, n-1).Float() != 1 || roc.Fields[1].Value(nil, 0).Float() != 0 {
		t.Errorf("%d steps of the curve", roc.Rows)
	}
	if came.Rows != 5 || came.Fields[0].Value(nil, 4).Text != "at risk" || came.Fields[1].Value(nil, 4).Float() != 0.5 || came.Fields[2].Value(nil, 4).Float() != 0.5 || came.Fields[3].Value(nil, 4).Int != 10 {
		t.Errorf("at risk: %s, %g km", came.Fields[0].Value(nil, 4), came.Fields[1].Value(nil, 4).Float())
	}
	if File(came) != "risk_came_true.csv" || len(Tables(nil)) != 11 {
		t.Errorf("%s", File(came))
	}
}

// What is adopted, by hand: efficacy and growth as shares, with as much behind them as there must be,
// and labour up to the first year with too few stands or more than the first year's.
func TestAdoptByHand(t *testing.T) {
	i := func(v float64) estimate.Interval { return estimate.Interval{Value: v, Low: v / 2, High: 2 * v} }
	a := &Answer{
		Quarters: []survey.Quarter{{Year: 2026, Number: 1}}, Treated: Treated{Jobs: 12, Groups: []Effect{{Jobs: 12, Clusters: 5, Control: i(0.8)}}},
		Growth: Growth{Groups: []GrowthOf{{Stands: 10, Yearly: estimate.Interval{Value: 1.25, Low: 1.125, High: 1.5}}}}, Labour: []Labour{{1, 12, i(0.2)}, {2, 10, i(0.1)}, {3, 9, i(0.05)}},
	}
	text := a.adoptPlan()
	for _, want := range []string{"\nefficacy = 0.800\n", "n = 12 days of work on a stand, observed and not caused, 2026Q1; 95 %: 0.400 to 1.60", "growth = 0.250\n", "n = 10 untreated stands", "n = 10 stands, 2026Q1\nfollow_up_labour = [0.2, 0.1]\n"} {
		if !strings.Contains(text, want) {
			t.Errorf("without %q:\n%s", want, text)
		}
	}
	a.Treated.Groups[0].Clusters, a.Growth.Groups[0].Stands, a.Labour[0].Share.Value = 4, 9, 1.1
	text = a.adoptPlan()
	for _, want := range []string{"# efficacy: too little data", "# growth: too little data", "# follow_up_labour: too little data; it takes 10 stands"} {
		if !strings.Contains(text, want) {
			t.Errorf("without %q:\n%s", want, text)
		}
	}
	a.Treated.Groups[0].Clusters, a.Treated.Groups[0].Control = 5, estimate.Interval{Value: 0.5, Low: 0, High: 1} // nothing gone is a bound
	a.Growth.Groups[0].Stands, a.Growth.Groups[0].Yearly = 10, estimate.Interval{Value: 1.25, Low: math.Inf(-1), High: 2}
	if text = a.adoptPlan(); !strings.Contains(text, "\nefficacy = 0.500\n") || !strings.Contains(text, "# growth: too little") {
		t.Error(text)
	}
}

// The parts on treatment and growth in words, and the tables with the same figures.
func TestTablesHoldTheAnswer(t *testing.T) {
	i := estimate.Interval{Value: 0.5, Low: 0.25, High: 0.75}
	q := survey.Quarter{Year: 2026, Number: 1}
	effect := Effect{By: "method", Of: "spray", Jobs: 11, Stands: 7, Clusters: 5, Before: 4, After: 2, Last: 1, Control: i, Held: i.Times(0.5), Regrown: i, Watched: 3}
	a := &Answer{
		Quarters: []survey.Quarter{{Year: 2026, Number: 1}}, Options: DefaultOptions(),
		Treated: Treated{Groups: []Effect{effect}, Jobs: 11, Stands: 7, Unjudged: 2, Clear: []ClearBy{{2, i, 10}, {4, i, 9}}, Hard: []HardStand{{"h", 3, on("2026-01-02"), on("2026-03-04"), 0.5}}},
		Growth:  Growth{Groups: []GrowthOf{{By: "all", Stands: 10, Years: 12.5, Yearly: i.Times(2)}}, Short: 3}, Labour: []Labour{{1, 10, i}, {2, 9, i}},
		Found: Found{Groups: []FindOf{{"all", "", 12, i}, {"size", "below 1 m2", 9, i}}, Used: 12, Looks: 3, Safe: 4, Aside: map[string]int{asideKnew: 2},
			Clear: []ClearStand{{StandID: "s", Looks: 2, Years: 1, Since: on("2026-05-06"), Absent: i}, {StandID: "t", Looks: 1, Absent: estimate.None()}}},
		Risk: Risk{Classes: []ClassShare{{Name: "low", LookedKm: 2.5, Ground: 0.5, Found: 3, Share: i, Ratio: i.Times(2)}}, Arrivals: []Arrival{{StandID: "n", Kind: Miss, Quarter: q, Stream: "c", Water: "Creek", At: orb.Point{10, -36}, RiverKm: 1.5, AboveKm: geo.Kilometers(2.5), Stretches: []string{"c/1"}}, {StandID: "u", Quarter: q, Kind: Upland}}},
	}
	a.Risk.Arrivals[1].On.Edge = -1
	rows := map[string]string{}
	for _, table := range Tables(a) {
		for r := range table.Rows {
			var cells []string
			for _, f := range table.Fields {
				v := f.Value(nil, r)
				cells = append(cells, v.String())
			}
			rows[fmt.Sprint(table.Name, " ", r)] = strings.Join(cells, "|")
		}
	}
	for name, want := range map[string]string{
		"treatment_effect 0": "method|spray|11|7|5|4|2|1|0.5|0.25|0.75|0.25|0.125|0.375|3|0.5|0.25|0.75", "treatment_clear 1": "4|9|0.5|0.25|0.75", "hard_stands 0": "h|3|2026-01-02|2026-03-04|0.5",
		"labour 1": "2|9|0.5|0.25|0.75", "growth 0": "all||10|12.5|1|0.5|1.5", "found_by_a_look 1": "size|below 1 m2|9|0.5|0.25|0.75", "nothing_left 0": "s|2|1|2026-05-06|0.5|0.25|0.75", "nothing_left 1": "t|1|0||||",
		"risk_came_true 0": "low|2.5|0.5|3|0.5|0.25|0.75|1|0.5|1.5",
		"new_stands 0":     "n|2026Q1|miss|c|Creek|1.5|10|-36|2.5|c/1", "new_stands 1": "u|2026Q1|off the water||||0|0||",
	} {
		if rows[name] != want {
			t.Errorf("%s: %s, want %s", name, rows[name], want)
		}
	}
	page := a.Page("1")
	for part, wants := range map[int][]string{
		2: {"Observed, not caused: of the live acres before work 50 % (25 % to 75 %) were gone at the first look 30 days or more after it, and 25 % (12 % to 38 %) at the last", "After 3 days of work", "2 days of work on a stand not counted",
			"method: spray 11 7 5 4.00 2.00 50 %", "2 10 50 % (25 % to 75 %)", "4 9 too few to tell", "h 3 2026-01-02 2026-03-04 0.50", "1 10 50 %", "2 9 too few"},
		3: {"One look finds 50 % (25 % to 75 %) of what is there. 3 clear looks in a row", "2 rows not counted: the second look knew of the first.", "all 12 50 %", "below 1 m2 9 too few to tell", "2 1 50 %", "1 1 unknown"},
		4: {"Untreated stands grew by 0 % (-50 % to 50 %) a year in acres.", "3 stands not counted", "all 10 12.5 0 %"},
		0: {"n 2026Q1 c 1.500 2.50 c/1"},
	} {
		text := wordsOf(page.Parts[part])
		for _, want := range wants {
			if !strings.Contains(text, want) {
				t.Errorf("part %d without %q:\n%s", part, want, text)
			}
		}
	}
}

// wordsOf is everything a part says, each row of a table with blanks between its cells.
func wordsOf(p report.AnswerPart) string {
	text := p.Verdict + "\n" + strings.Join(p.Text, "\n") + "\n"
	for _, table := range p.Tables {
		for _, row := range table.Rows {
			for _, cell := range row.Cells {
				text += cell.Text + " "
			}
			text += "\n"
		}
	}
	return text
}
