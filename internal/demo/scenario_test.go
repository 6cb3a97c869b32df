package demo

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// seeds are the seeds that most tests use: the demo's own and some more, so that no test passes by
// luck.
var seeds = []uint64{0, 1, 2, 5, 22}

// kept stores the scenarios already made: making one takes longer than checking it.
var kept = map[uint64]Scenario{}

func made(seed uint64) Scenario {
	if _, ok := kept[seed]; !ok {
		kept[seed] = Make(seed)
	}
	return kept[seed]
}

func TestSameSeedGivesSameBytes(t *testing.T) {
	one, two, other := Make(7).Files(), Make(7).Files(), Make(8).Files()
	for i := range one {
		if !bytes.Equal(one[i].Text, two[i].Text) {
			t.Errorf("%s differs between two runs of one seed", one[i].Name)
		}
	}
	if bytes.Equal(one[1].Text, other[1].Text) {
		t.Errorf("%s is the same for two seeds", one[1].Name)
	}
}

func TestWritePutsEveryFileInTheFolder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new", "inputs")
	s, err := Write(dir, 3)
	if err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	// Derived by hand: six files for the whole, four for each of eight quarters.
	if len(entries) != 6+4*8 {
		t.Errorf("%d files, want 38", len(entries))
	}
	for _, q := range s.Quarters {
		text, err := os.ReadFile(filepath.Join(dir, q.PointsFile()))
		if err != nil || !bytes.Equal(text, q.Points) {
			t.Errorf("%s on disk is not the scenario's: %v", q.PointsFile(), err)
		}
	}
}

func TestWriteSaysWhatItAttempted(t *testing.T) {
	taken := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(taken, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	_, err := Write(taken, 1)
	if err == nil || !strings.HasPrefix(err.Error(), "write the demo's input: ") {
		t.Errorf("error is %v", err)
	}
}

func TestQuartersFollowEachOther(t *testing.T) {
	for i, q := range made(1).Quarters {
		year, number := calendar[i].first.Year(), (int(calendar[i].first.Month())+2)/3
		if want := fmt.Sprintf("%dQ%d", year, number); q.Quarter != want {
			t.Errorf("quarter %d is %s, its first day lies in %s", i, q.Quarter, want)
		}
		if i > 0 && !calendar[i-1].first.AddDate(0, 3, 0).Equal(calendar[i].first) {
			t.Errorf("%s does not follow %s", q.Quarter, calendar[i-1].name)
		}
	}
}

// The names in names.go were invented by hand. The test can only check that no file contains any
// other proper name.
func TestEveryNameIsFromTheListOfInventedNames(t *testing.T) {
	known := map[string]bool{reservoirName: true}
	for _, p := range plans {
		known[p.name] = true
	}
	for _, name := range districtNames {
		known[name] = true
	}
	s := made(1)
	for _, f := range slices.Concat(readMap(t, s.Streams), readMap(t, s.Units), readMap(t, s.Water)) {
		for _, key := range []string{"waterBody", "unit_name"} {
			if name, ok := f.Properties[key].(string); ok && !known[name] {
				t.Errorf("%s %q is not in names.go", key, name)
			}
		}
	}
	if len(places) != len(drySites) {
		t.Errorf("%d names for %d dry sites", len(places), len(drySites))
	}
	for _, want := range []string{countryName, "made up", "seed 1;"} {
		if !bytes.Contains(s.Readme, []byte(want)) {
			t.Errorf("the README does not say %q", want)
		}
	}
}

func TestReadmeNamesEveryFile(t *testing.T) {
	s := made(1)
	for _, f := range s.Files() {
		// The README covers the quarters after the first with "and seven more".
		later := strings.Contains(f.Name, "2026") || strings.Contains(f.Name, "2025")
		if !later && f.Name != "README.md" && !bytes.Contains(s.Readme, []byte(f.Name)) {
			t.Errorf("the README does not name %s", f.Name)
		}
	}
}

func BenchmarkMake(b *testing.B) {
	for b.Loop() {
		Make(1)
	}
}

// Write makes the scenario of a seed and puts its files into dir, which it
// creates where it is missing. It returns the scenario.
func Write(dir string, seed uint64) (Scenario, error) {
	s := Make(seed)
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return s, fmt.Errorf("write the demo's input: %w", err)
	}
	for _, f := range s.Files() {
		if err := os.WriteFile(filepath.Join(dir, f.Name), f.Text, 0o666); err != nil {
			return s, fmt.Errorf("write the demo's input: %w", err)
		}
	}
	return s, nil
}
