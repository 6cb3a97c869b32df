package part

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo/earth"
	"driftreach/geo/shape"
	"driftreach/internal/disk"
	"driftreach/internal/margin"
	"driftreach/internal/spill"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// put writes a result into its folder.
func put(t *testing.T, dir, name string, h Head, r Result) {
	t.Helper()
	var file bytes.Buffer
	err := errors.Join(r.Write(&file, h), os.MkdirAll(filepath.Join(dir, name), 0o777))
	if err == nil {
		err = os.WriteFile(filepath.Join(dir, name, ResultFile), file.Bytes(), 0o666)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// twoParts writes the two results of a split: three records in two stands, and two pieces of the zone.
func twoParts(t *testing.T) (string, Split) {
	dir, split := t.TempDir(), Split{Quarter: "2026Q3", Parts: 2, Records: 4, Detected: 3, Pieces: 2}
	ring := func(x float64) Drawn {
		return shape.AppendPolygons(nil, orb.MultiPolygon{{{{x, 0}, {x + 1, 0}, {x, 1}, {x, 0}}}})
	}
	put(t, dir, "0001", Head{OfResult, 1, split}, Result{Stands: []stand.Stand{{Members: []int32{0, 3}}}, Margins: make([]margin.Stand, 1), PieceAt: []int32{1}, Zone: []Drawn{ring(5)}})
	put(t, dir, "0002", Head{OfResult, 2, split}, Result{Stands: []stand.Stand{{Members: []int32{1}}}, Margins: make([]margin.Stand, 1), PieceAt: []int32{0}, Zone: []Drawn{ring(7)}})
	return dir, split
}

// TestResultsAreGathered: the stands and pieces of all parts come together, each piece at its place; by
// hand. Other files beside the results are left alone.
func TestResultsAreGathered(t *testing.T) {
	dir, split := twoParts(t)
	if err := os.WriteFile(filepath.Join(dir, "0001.log"), []byte("x"), 0o666); err != nil {
		t.Fatal(err)
	}
	found, err := FindResults(disk.System(), dir)
	if err != nil {
		t.Fatal(err)
	}
	whole, err := found.Gather(&split, spill.NewShelf(nil, ""))
	if err != nil {
		t.Fatal(err)
	}
	drawn := whole.Drawn()
	if len(whole.Stands) != 2 || drawn.Count != 2 || drawn.Piece(0)[0][0][0] != (orb.Point{7, 0}) || drawn.Piece(1)[0][0][0] != (orb.Point{5, 0}) {
		t.Errorf("%v: %+v", err, whole)
	}
	other := split
	other.Settings = "{}"
	_, err = found.Gather(&other, spill.NewShelf(nil, ""))
	var told *Error
	if !errors.As(err, &told) || err.Error() != "the results are stale: it was cut with other settings" || !strings.HasPrefix(told.Hint(), "split again") {
		t.Errorf("other settings: %v", err)
	}
	more := split
	more.Detected = 4 // one that no part has
	put(t, dir, "0001", Head{OfResult, 1, more}, Result{Stands: []stand.Stand{{Members: []int32{0, 3}}}, Margins: make([]margin.Stand, 1), PieceAt: []int32{1}, Zone: make([]Drawn, 1)})
	put(t, dir, "0002", Head{OfResult, 2, more}, Result{Stands: []stand.Stand{{Members: []int32{1}}}, Margins: make([]margin.Stand, 1), PieceAt: []int32{0}, Zone: make([]Drawn, 1)})
	if found, err = FindResults(disk.System(), dir); err != nil {
		t.Fatal(err)
	}
	if _, err = found.Gather(&more, spill.NewShelf(nil, "")); err == nil || err.Error() != "the results do not hold all of what was cut" {
		t.Errorf("a record that no part has: %v", err)
	}
	put(t, dir, "0002", Head{OfResult, 2, more}, Result{Stands: []stand.Stand{{Members: []int32{3}}}, Margins: make([]margin.Stand, 1)})
	if _, err = found.Gather(&more, spill.NewShelf(nil, "")); err == nil || !strings.Contains(err.Error(), "part 0002: record 3 is not there, or in two stands; nothing was written") {
		t.Errorf("a record in two parts: %v", err)
	}
	if err := os.Truncate(filepath.Join(dir, "0001", ResultFile), 40); err != nil {
		t.Fatal(err)
	}
	if _, err = found.Gather(&more, spill.NewShelf(nil, "")); err == nil || !strings.Contains(err.Error(), "part 0001: its bytes are not those that were written") {
		t.Errorf("a result cut off: %v", err)
	}
}

// TestFaultsOfResults: each part whose result cannot be used is told with the reason, ten of them at
// most, and what to run.
func TestFaultsOfResults(t *testing.T) {
	split := Split{Quarter: "2026Q3", Parts: 3}
	for want, c := range map[string]func(dir string){
		"no result of any part is in ": func(string) {},
		"part 0002: it is missing": func(dir string) {
			put(t, dir, "0001", Head{OfResult, 1, split}, Result{})
			put(t, dir, "0003", Head{OfResult, 3, split}, Result{})
		},
		"part 0001: it holds no result; part 0002: it is missing; part 0003: it is missing": func(dir string) {
			if err := os.Mkdir(filepath.Join(dir, "0001"), 0o777); err != nil {
				t.Fatal(err)
			}
			put(t, dir, "0004", Head{OfResult, 4, split}, Result{})
		},
		"part 0001: it is a part of a batch;": func(dir string) {
			put(t, dir, "0001", Head{OfPart, 1, split}, Result{})
			put(t, dir, "0002", Head{OfResult, 2, split}, Result{})
		},
		"part 0001: it is the result of part 0002;": func(dir string) {
			put(t, dir, "0001", Head{OfResult, 2, split}, Result{})
			put(t, dir, "0002", Head{OfResult, 2, split}, Result{})
		},
		"part 0003: there are 2 parts; nothing": func(dir string) {
			two := Split{Parts: 2}
			put(t, dir, "0001", Head{OfResult, 1, two}, Result{})
			put(t, dir, "0002", Head{OfResult, 2, two}, Result{})
			put(t, dir, "0003", Head{OfResult, 3, two}, Result{})
		},
		"part 0011: it is missing; and 2 more; nothing": func(dir string) { many := Split{Parts: 13}; put(t, dir, "0001", Head{OfResult, 1, many}, Result{}) },
		"part 0011: it is missing; nothing":             func(dir string) { many := Split{Parts: 11}; put(t, dir, "0001", Head{OfResult, 1, many}, Result{}) },
	} {
		dir := t.TempDir()
		c(dir)
		_, err := FindResults(disk.System(), dir)
		var told *Error
		if !errors.As(err, &told) || !strings.Contains(err.Error(), want) || !strings.HasPrefix(told.Hint(), "run `driftreach batch --part PARTS/00") {
			t.Errorf("%v, want %q", err, want)
		}
		if want == "part 0002: it is missing" && !strings.HasPrefix(told.Hint(), "run `driftreach batch --part PARTS/0002 --out "+filepath.ToSlash(filepath.Join(dir, "0002"))+"` and so on") {
			t.Error(told.Hint())
		}
	}
	if _, err := FindResults(disk.System(), filepath.Join(t.TempDir(), "none")); err == nil || !strings.HasPrefix(err.Error(), "results ") {
		t.Errorf("no folder: %v", err)
	}
	if h, err := HeadOf(disk.System(), t.TempDir(), ResultFile); err == nil {
		t.Errorf("%+v", h)
	}
}

// TestGroupsOfManyRecords: records are in one part if steps of the join distance lead from one to the
// other, in a region of thousands of cells; against all pairs by brute force. Any two records as near as
// that are in one part.
func TestGroupsOfManyRecords(t *testing.T) {
	dice, frame := rand.New(rand.NewPCG(1, 2)), earth.NewFrame(orb.Point{-40, -33})
	const join, parts = 30.0, 7
	var records []survey.Record
	for range 2500 {
		at := frame.Inverse(orb.Point{40 * float64(dice.IntN(400)), 29 * float64(dice.IntN(30))})
		records = append(records, survey.Record{Position: at, Detected: true})
	}
	g := NewGroups(join)
	cells := make([]int32, len(records))
	for i := range records {
		cells[i] = g.Add(&records[i])
	}
	deal := g.Deal(nil, nil, parts)
	used, weight := map[int]int{}, map[int32]bool{}
	for i := range records {
		used[deal.Part(cells[i])]++
		weight[cells[i]] = true
		for k := range i {
			if earth.Distance(records[i].Position, records[k].Position) <= join && deal.Part(cells[i]) != deal.Part(cells[k]) {
				t.Fatalf("records %d and %d are %v apart, in parts %d and %d", i, k, earth.Distance(records[i].Position, records[k].Position), deal.Part(cells[i]), deal.Part(cells[k]))
			}
		}
	}
	if len(used) != parts || len(weight) < 1000 {
		t.Errorf("%d cells in %d parts", len(weight), len(used))
	}
	for number, n := range used { // a seventh is 357
		if n < 340 || n > 375 {
			t.Errorf("part %d has %d records", number, n)
		}
	}
}

// TestPlansHaveNames: plans that differ in anything have other names, and the folder of a part has four
// digits.
func TestPlansHaveNames(t *testing.T) {
	seen := map[string]string{}
	for name, p := range map[string]Split{
		"none": {}, "version": {Version: "1"}, "machine": {Machine: "1"}, "command": {Command: []string{"1"}}, "quarter": {Quarter: "1"}, "settings": {Settings: "1"},
		"inputs": {Inputs: []Input{{Role: "1"}}}, "name": {Inputs: []Input{{Name: "1"}}}, "sum": {Inputs: []Input{{SHA256: "1"}}}, "parts": {Parts: 1}, "records": {Records: 1}, "detected": {Detected: 1}, "pieces": {Pieces: 1},
	} {
		if other, there := seen[p.ID()]; there || len(p.ID()) != 64 {
			t.Errorf("%s is named as %s: %s", name, other, p.ID())
		}
		seen[p.ID()] = name
	}
	if got := fmt.Sprint(Name(7), Name(Most)); got != "00079999" && got != "0007 9999" {
		t.Error(got)
	}
}
