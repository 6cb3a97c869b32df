// Command mutate tests whether the tests of a package notice errors in its code. It changes one
// place in the source at random, one change at a time: a comparison reversed or its boundary moved,
// a plus replaced by minus, a number made a tenth larger, a statement left out, a zero result. For
// each change it runs the package's own tests (for a format, also the tests that every format
// passes). If these pass, it runs the tests of other packages that depend on it (elsewhere). It
// lists the changes that no test noticed.
//
//	go run ./scripts/mutate                           a sample of every package
//	go run ./scripts/mutate -changes 60 ./geo/earth
//
// A change that cannot matter is listed, with the reason, in equivalent.tsv and is not counted. A
// change that does not compile is replaced by another. The source files stay unchanged: the changed
// file is used as an overlay when the tests are built.
package main

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"time"
)

// science are the packages where a wrong line gives a wrong figure, and house those that read,
// store and write figures. The shares of changes to be noticed are our goals.
var science = []string{
	"./geo", "./geo/cells", "./geo/cluster", "./geo/disjoint", "./geo/earth", "./geo/flow", "./geo/knapsack", "./geo/linear", "./geo/parallel", "./geo/shape", "./internal/stand", "./internal/aquatic",
	"./internal/drift", "./internal/margin", "./internal/priority", "./internal/lineage", "./internal/trend", "./internal/allocate",
	"./internal/followup", "./internal/result",
}

var house = []string{
	"./internal/check", "./internal/survey", "./internal/stream", "./internal/work", "./internal/unit", "./internal/surveyed", "./internal/treatment",
	"./internal/correction", "./internal/notice", "./internal/cell", "./internal/column", "./internal/intake", "./internal/verify", "./internal/mapfile", "./internal/report",
	"./internal/treatable", "./internal/valued", "./internal/plan", "./internal/stretch", "./internal/crew", "./internal/part", "./internal/estimate", "./internal/learn",
	"./internal/folder", "./internal/disk", "./internal/spill", "./internal/host", "./internal/public", "./internal/webmap", "./internal/observed", "./internal/restated", "./internal/verify/validate",
	"./internal/settings", "./internal/earlier", "./internal/batch", "./internal/format", "./internal/format/archive", "./internal/format/csv",
	"./internal/format/detect", "./internal/format/geojson", "./internal/format/geopackage", "./internal/format/gpx", "./internal/format/grid",
	"./internal/format/kml", "./internal/format/parquet", "./internal/format/shapefile", "./internal/format/wellknown", "./internal/format/xlsx",
	"./internal/format/xmldoc",
}

func main() {
	changes := flag.Int("changes", 20, "changes to try of each package")
	seed := flag.Uint64("seed", 1, "of the draw")
	after := flag.Int("after", 0, "places of the draw that an earlier run tried, those that did not compile too: go on after them")
	goal := flag.Float64("goal", 0, "share noticed in percent below which the run fails; 0 asks for nothing")
	once := flag.Bool("once", false, "try the changes of once.tsv, which passed all tests once, and no others")
	own := flag.Bool("own", false, "run a package's own tests alone, not those of other packages")
	trace := flag.Bool("v", false, "print each change as it is tried")
	flag.Parse()
	var err error
	if *once {
		err = tryOnce("scripts/mutate/once.tsv")
	} else {
		err = run(flag.Args(), draw{*changes, *after, *seed, *own}, *goal, *trace)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "mutate:", err)
		os.Exit(1)
	}
}

// draw says which changes of a package to try, and whether with its own tests alone.
type draw struct {
	changes, after int
	seed           uint64
	own            bool
}

func run(packages []string, drawn draw, goal float64, trace bool) error {
	if len(packages) == 0 {
		packages = slices.Concat(science, house)
	}
	known, err := readEquivalents("scripts/mutate/equivalent.tsv")
	if err != nil {
		return err
	}
	fmt.Println("| package | places | tried | noticed | of them elsewhere | by the time limit | cannot matter | share noticed |")
	fmt.Println("|---|--:|--:|--:|--:|--:|--:|--:|")
	var all tally
	for _, dir := range packages {
		t, err := tryPackage(dir, drawn, known, trace)
		if err != nil {
			return fmt.Errorf("%s: %w", dir, err)
		}
		t.print(dir)
		all.add(t)
	}
	all.print("**all**")
	for _, c := range all.survived {
		fmt.Println("NOT NOTICED:", c)
	}
	if share := all.share(); share < goal {
		return fmt.Errorf("%.0f %% noticed, the goal is %.0f %%", share, goal)
	}
	return nil
}

// tally counts the results for one package, or for all.
type tally struct {
	places, tried, noticed, equivalent int
	elsewhere                          int // noticed only by tests of other packages
	late                               int // noticed since the tests ran longer than the limit, as a busy machine's may
	survived                           []change
}

func (t *tally) add(o tally) {
	t.places, t.tried, t.noticed, t.equivalent = t.places+o.places, t.tried+o.tried, t.noticed+o.noticed, t.equivalent+o.equivalent
	t.elsewhere += o.elsewhere
	t.late += o.late
	t.survived = append(t.survived, o.survived...)
}

// share returns the percentage of relevant changes that were noticed.
func (t tally) share() float64 {
	return 100 * float64(t.noticed) / float64(max(t.tried-t.equivalent, 1))
}

func (t tally) print(name string) {
	fmt.Printf("| %s | %d | %d | %d | %d | %d | %d | %.0f %% |\n", name, t.places, t.tried, t.noticed, t.elsewhere, t.late, t.equivalent, t.share())
}

// testsOf returns the packages whose tests cover a package: its own and, for a format, the suite
// that every format passes.
func testsOf(dir string) string {
	if strings.HasPrefix(dir, "./internal/format") && dir != everyFormat {
		return dir + " " + everyFormat
	}
	return dir
}

// everyFormat is the package with the suite for all formats.
const everyFormat = "./internal/format/detect"

// Packages whose tests cover packages below them: whole quarters through real folders, whole runs,
// and files read into records.
const (
	readFiles  = "./internal/intake"
	malformed  = "./internal/intake -run Malformed"
	quarters   = "./internal/batch"
	transcript = "./cmd/driftreach -run TestTranscripts"
	ofDemo     = "./cmd/driftreach -run OfTheDemo|TestVerify|TestPublicEdition|TestLearn"
)

// elsewhere lists other packages whose tests cover a package, to run in turn when its own tests let
// a change pass.
var elsewhere = map[string][]string{
	"./internal/cell": {readFiles}, "./internal/column": {readFiles}, "./internal/check": {readFiles}, "./internal/survey": {readFiles, quarters},
	"./internal/stream": {readFiles, quarters}, "./internal/work": {readFiles}, "./internal/unit": {readFiles}, "./internal/surveyed": {readFiles},
	"./internal/treatment": {readFiles, quarters}, "./internal/correction": {readFiles, quarters}, "./internal/treatable": {readFiles, transcript},
	"./internal/valued": {readFiles, transcript}, "./internal/intake": {transcript}, "./internal/settings": {transcript},
	"./internal/observed": {quarters, transcript}, "./internal/restated": {quarters, transcript}, "./internal/earlier": {quarters, transcript},
	"./internal/batch": {transcript, ofDemo}, "./internal/plan": {quarters, transcript}, "./internal/stretch": {quarters}, "./internal/notice": {quarters},
	"./internal/crew": {"./internal/report", "./internal/mapfile"}, "./internal/part": {"./cmd/driftreach -run TestTranscripts/(parts|split)"},
	"./internal/learn": {ofDemo}, "./internal/folder": {transcript}, "./internal/disk": {"./internal/folder", transcript}, "./internal/public": {ofDemo},
	"./internal/webmap": {ofDemo, "./cmd/driftreach -run TestBrowserMap"}, "./internal/report": {transcript, ofDemo}, "./internal/mapfile": {transcript, ofDemo},
	"./internal/verify": {ofDemo, transcript}, "./internal/verify/validate": {ofDemo},
}

// tryElsewhere runs the tests of those other packages and returns whether they noticed, and what the
// tests printed.
func tryElsewhere(dir string, c *change) (outcome, string) {
	others := elsewhere[dir]
	if strings.HasPrefix(dir, "./internal/format") {
		others = []string{malformed}
	}
	for _, of := range others {
		if got, said := test(of, c, 10*time.Minute); got == noticed || got == late {
			return got, said
		}
	}
	return survived, ""
}

// by returns which test failed, or that the time ran out, from the output of the tests.
func by(said string) string {
	for line := range strings.Lines(said) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "panic: ") {
			return "(" + line + ")"
		}
		if name, failed := strings.CutPrefix(line, "--- FAIL: "); failed {
			return "(" + name + ")"
		}
	}
	return ""
}

// tryPackage tries a sample of the changes of one package.
func tryPackage(dir string, drawn draw, known map[string]string, trace bool) (t tally, err error) {
	places, err := changesOf(dir)
	if err != nil {
		return t, err
	}
	begin := time.Now()
	if outcome, said := test(testsOf(dir), nil, 10*time.Minute); outcome != survived {
		return t, fmt.Errorf("its tests fail without a change:\n%s", said)
	}
	limit := 20*time.Second + 4*time.Since(begin) // a change that makes the tests run forever counts as noticed
	t.places = len(places)
	random := rand.New(rand.NewPCG(drawn.seed, uint64(len(dir))))
	random.Shuffle(len(places), func(i, j int) { places[i], places[j] = places[j], places[i] })
	for _, c := range places[min(drawn.after, len(places)):] {
		if t.tried == drawn.changes {
			break
		}
		outcome, said := survived, ""
		if known[c.key()] == "" {
			outcome, said = test(testsOf(dir), &c, limit)
			if outcome == survived && !drawn.own {
				outcome, said = tryElsewhere(dir, &c)
				if outcome != survived {
					t.elsewhere++
				}
			}
		}
		if trace {
			fmt.Fprintln(os.Stderr, outcome, by(said), c)
		}
		if outcome == unbuilt {
			continue
		}
		t.tried++
		switch {
		case outcome == noticed:
			t.noticed++
		case outcome == late:
			t.noticed++
			t.late++
		case known[c.key()] != "":
			t.equivalent++
		default:
			t.survived = append(t.survived, c)
		}
	}
	return t, nil
}
