package intake

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/check"
	"driftreach/internal/correction"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
	"driftreach/internal/testkit/malformed"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

var update = flag.Bool("update", false, "write what the malformed files come to anew, to be read before it is kept")

// mostAllocated limits the total memory allocated while reading one malformed file, which is more
// than it uses at any one time: 500 MB, by the project's own promise.
const mostAllocated = 500 << 20

// longestCase only finds reads that hang: scripts/limits measures time on a machine of its own.
const longestCase = 60 * time.Second

// TestMalformed reads every malformed file and compares the result with the table in
// testdata/malformed. Each row of it was checked by hand.
func TestMalformed(t *testing.T) {
	testdata := filepath.Join("..", "..", "testdata")
	cases, err := malformed.Cases(testdata)
	if err != nil {
		t.Fatal(err)
	}
	if len(cases) < 200 {
		t.Errorf("%d cases", len(cases))
	}
	var lines []string
	for _, c := range cases {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		done := make(chan string, 1)
		go func() { done <- outcome(c) }()
		select {
		case told := <-done:
			lines = append(lines, c.Name+"\t"+told)
		case <-time.After(longestCase):
			t.Fatalf("%s: still not done", c.Name)
		}
		runtime.ReadMemStats(&after)
		if n := after.TotalAlloc - before.TotalAlloc; n > mostAllocated {
			t.Errorf("%s: %d MB were allocated", c.Name, n>>20)
		}
	}
	file := filepath.Join(testdata, "malformed", "expected.tsv")
	got := strings.Join(lines, "\n") + "\n"
	if *update {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(got, "\n")); diff != "" {
		t.Errorf("other outcomes than testdata/malformed says:\n%s", diff)
	}
}

// outcome reads a case and describes the result in one line.
func outcome(c malformed.Case) string {
	s := testkit.Source("f"+c.Ending, bytes.NewReader(c.Bytes))
	s.Size = int64(len(c.Bytes))
	s.Beside = func(ending string) (io.ReadCloser, error) {
		if b, ok := c.Beside[ending]; ok {
			return io.NopCloser(bytes.NewReader(b)), nil
		}
		return nil, fs.ErrNotExist
	}
	file, findings, err := given(s, c.Role)
	var unusable *format.UnusableError
	switch {
	case errors.As(err, &unusable):
		return "unusable: " + format.ShortenTo(strings.Trim(fmt.Sprintf("%q", unusable.Error()), `"`), 200)
	case err != nil:
		return "ERROR " + err.Error()
	}
	counts := map[string]int{}
	for _, f := range findings {
		counts[f.Rule.Code]++
	}
	told := fmt.Sprintf("read %d, rejected %d", file.Read, file.Rejected)
	for _, code := range slices.Sorted(func(yield func(string) bool) {
		for code := range counts { // sorted
			if !yield(code) {
				return
			}
		}
	}) {
		told += fmt.Sprintf(", %s %d", code, counts[code])
	}
	return told
}

// given reads a file as the input of its role. Inputs other than points and streams are also
// checked as a batch, which finds overlaps, gaps and copies.
func given(s format.Source, role string) (File, []check.Finding, error) {
	switch o := testOptions(); role {
	case "":
		points, findings, err := ReadPoints(s, o)
		return points.File, findings, err
	case "streams":
		lines, findings, err := ReadStreams(s, o)
		return lines.File, findings, err
	case "units":
		units, findings, err := ReadUnits(s, o)
		_, more := unit.Check(units.Units, unit.Options{})
		return units.File, append(findings, more...), err
	case "surveyed":
		walked, findings, err := ReadSurveyed(s, o)
		_, more := surveyed.Check(walked.Ground, surveyed.Options{Begin: quarter.Begin(), End: quarter.End()})
		return walked.File, append(findings, more...), err
	case "treatments":
		done, findings, err := ReadTreatments(s, o)
		_, more := treatment.Check(done.Actions, treatment.Options{End: quarter.End()})
		return done.File, append(findings, more...), err
	case "corrections":
		found, findings, err := ReadCorrections(s, o)
		rows, more := correction.Check(found.Rows, correction.Options{End: quarter.End()})
		_, yet := correction.Join(nil, rows)
		return found.File, slices.Concat(findings, more, yet), err
	case "barriers":
		barriers, findings, err := ReadBarriers(s, o)
		_, more := stream.CheckStructures(barriers.Structures, stream.Options{})
		return barriers.File, append(findings, more...), err
	case "water":
		water, findings, err := ReadWater(s, o)
		_, more := stream.CheckSurfaces(water.Surfaces, stream.Options{})
		return water.File, append(findings, more...), err
	}
	panic("no input is called " + role)
}
