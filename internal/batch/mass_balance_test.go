package batch

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/verify"
)

// terms are the settings, units and streams of a quarter, each one of a few.
type terms struct {
	settings settings.Settings
	streams  []stream.Centerline
	words    string // tells one from another
	join     bool   // the join distance is another
}

// drawTerms draws the settings, units and streams of a quarter, the usual ones more
// often than not.
func drawTerms(t *rapid.T, in *observed.Quarter) terms {
	out := terms{settings: chainSettings(), streams: chainStreams}
	streams, units := "s", "u"
	in.Units = halves(200, "west", "east")
	switch rapid.IntRange(0, 9).Draw(t, "terms") {
	case 0:
		out.settings.Stands.DefaultPatch = 0.3
	case 1:
		out.settings.Stands.DefaultPatch, out.settings.Aquatic.Setback = 0.05, 60
	case 2:
		out.settings.Stands.JoinDistance, out.join = 60, true
	case 3:
		out.streams, streams = renamed("Short Water", "Middle Water"), "t"
	case 4:
		in.Units, units = halves(600, "east", "far east"), "v"
	case 5:
		out.streams, streams = renamed("Long Water", "", "Long Water"), "w"
		in.Units, units = halves(400, "west", "east"), "x"
		out.settings.Stands.DefaultCover = 30
	}
	in.Centerlines, in.Files = out.streams, inputsOf(streams, units)
	out.words = fmt.Sprint(out.settings.Stands, out.settings.Aquatic.Setback, streams, units)
	return out
}

// drawSites draws a quarter of places that stay where they are: each is found, a little
// beside its place, or found blank, or nobody comes by; and now and then a find lies
// elsewhere.
func drawSites(t *rapid.T, sites []orb.Point, q survey.Quarter) observed.Quarter {
	in := observed.Quarter{Quarter: q, ExtraColumns: []string{"crew"}}
	add := func(id string, at orb.Point) {
		r := survey.Record{
			ID: id, Position: chainFrame.Inverse(at), Detected: rapid.IntRange(0, 3).Draw(t, "detected") > 0,
			Status: survey.Status(rapid.IntRange(0, 3).Draw(t, "status")), Cover: math.NaN(), StemHeight: geo.Meters(math.NaN()), Notes: "",
			PatchArea: geo.SquareMeters(rapid.SampledFrom([]int{0, 60, 300, 900}).Draw(t, "area")),
		}
		if !r.Detected {
			r.PatchArea = geo.SquareMeters(rapid.SampledFrom([]int{100, 3000}).Draw(t, "searched"))
		}
		in.Records.Listed = append(in.Records.Listed, r)
	}
	for i, site := range sites {
		if rapid.IntRange(0, 3).Draw(t, "visited") > 0 {
			add(fmt.Sprintf("p%02d", i), orb.Point{site[0] + rapid.Float64Range(-6, 6).Draw(t, "dx"), site[1] + rapid.Float64Range(-6, 6).Draw(t, "dy")})
		}
	}
	for i := range rapid.IntRange(0, 2).Draw(t, "elsewhere") {
		add(fmt.Sprintf("q%02d", i), drawSite(t))
	}
	if in.SurveyedGiven = rapid.Bool().Draw(t, "given"); in.SurveyedGiven {
		for range rapid.IntRange(0, 2).Draw(t, "grounds") {
			in.Surveyed = append(in.Surveyed, surveyed.Ground{Lines: orb.MultiLineString{chainLine(float64(rapid.IntRange(0, 900).Draw(t, "walked")))}})
		}
	}
	return in
}

// drawSite draws a place, 3 m off the middle between two streams, where a carried
// position, rounded to a centimetre, could change sides.
func drawSite(t *rapid.T) orb.Point {
	return orb.Point{float64(rapid.IntRange(0, 45).Draw(t, "x"))*20 + 3, float64(rapid.IntRange(-25, 25).Draw(t, "y")) * 20}
}

// massBalance runs a chain of quarters in which settings, units and names of streams change, and
// checks the mass balance of the acres in every quarter.
func massBalance(t *rapid.T, quarters int) {
	top, err := os.MkdirTemp(scratch(), "balance")
	if err != nil {
		t.Fatal(err)
	}
	defer os.RemoveAll(top)
	var sites []orb.Point
	for range rapid.IntRange(1, 8).Draw(t, "sites") {
		sites = append(sites, drawSite(t))
	}
	given, last := map[string]bool{}, ""
	var before *result.Run
	var first link
	q := survey.Quarter{Year: 2026, Number: 1}
	for k := range quarters {
		l := link{in: drawSites(t, sites, q), dir: filepath.Join(top, q.String())}
		by := drawTerms(t, &l.in)
		l.settings = &by.settings
		run := l.deliver(t, last, 1)
		mustBeInPrint(t, l.dir)
		if before != nil {
			mustAddUp(t, before, run)
		}
		if k == 1 && !by.join && first.settings.Stands.JoinDistance == 30 {
			mustBeRestated(t, first, l, before, run)
		}
		if k == 0 {
			first = l
		}
		mustBeNew(t, given, run)
		before, last, q = run, l.dir, q.Next()
	}
}

// scratch is a place for temporary folders: memory where the system offers it, since most of the time
// would be spent waiting for a disk.
func scratch() string {
	if info, err := os.Stat("/dev/shm"); err == nil && info.IsDir() {
		return "/dev/shm"
	}
	return ""
}

// mustBeInPrint checks a folder's summary as printed: every column of streams and of units adds up to
// the total, and the parts of every row add up to its acres.
func mustBeInPrint(t *rapid.T, dir string) {
	text, err := os.ReadFile(filepath.Join(dir, "summary.csv"))
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	wrong := slices.DeleteFunc(verify.Summary(rows, nil, nil), func(w string) bool { return strings.Contains(w, "the stands add up to") })
	if len(wrong) > 0 {
		t.Fatalf("%s: %q", dir, wrong)
	}
}

// mustBeRestated compares the restated acres of the first quarter with those of a batch made from its
// own records by the terms of the second.
func mustBeRestated(t *rapid.T, first, second link, before, run *result.Run) {
	again := first
	again.in.Units, again.in.Centerlines, again.in.Files = second.in.Units, second.in.Centerlines, second.in.Files
	again.settings, again.dir = second.settings, second.dir+"-again"
	want := again.deliver(t, "", 1)
	now, then := result.Summarize(want)[0].Infested, result.Summarize(before)[0].Infested
	change := result.Summarize(run)[0].Change
	if off := change.Restated - (now - then); off > 2*lastDigit(before, run) || off < -2*lastDigit(before, run) {
		t.Fatalf("%d are restated of %d, which are %d by the terms of now", change.Restated, then, now)
	}
}

// TestMassBalanceThroughTenQuarters goes through chains of ten quarters, the same ones each
// time; DRIFTREACH_LONG=1 goes through many.
func TestMassBalanceThroughTenQuarters(t *testing.T) {
	if os.Getenv("DRIFTREACH_LONG") != "" {
		rapid.Check(t, func(t *rapid.T) { massBalance(t, 10) })
		return
	}
	for seed := range 3 {
		rapid.Custom(func(t *rapid.T) bool { massBalance(t, 10); return true }).Example(seed)
	}
}

// TestMassBalance goes through short chains drawn anew each time.
func TestMassBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) { massBalance(t, 2) })
}
