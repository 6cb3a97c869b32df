package demo

import (
	"bytes"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/intake"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// The program's own readers accept every record of the demo: mistakes made in the field give
// warnings, and nothing is rejected.
func TestReadersTakeEveryRecord(t *testing.T) {
	// Derived by hand from blemish: the finding for each quarter's mistakes.
	slips := [4]string{"date-missing", "id-duplicate", "cover-out-of-range", "status-unknown"}
	for _, seed := range seeds {
		for i, q := range made(seed).Quarters {
			quarter, err := survey.ParseQuarter(q.Quarter)
			if err != nil {
				t.Fatal(err)
			}
			options := intake.DefaultOptions()
			options.Quarter = quarter
			read, findings, err := intake.ReadPoints(testkit.Source(q.PointsFile(), bytes.NewReader(q.Points)), options)
			if err != nil {
				t.Fatal(err)
			}
			examined := survey.Examine(read.Records, survey.DefaultOptions(quarter))
			accepted, more := examined.Records, examined.Findings
			if rows := len(seenPoints(t, q.Points)); len(accepted) != rows {
				t.Errorf("seed %d %s: %d of %d records accepted", seed, q.Quarter, len(accepted), rows)
			}
			seen := codes(t, append(findings, more...))
			for _, code := range []string{slips[i%4], "uncertainty-not-positive"} {
				if seen[code] != 1 {
					t.Errorf("seed %d %s: %d findings %s, want 1; all: %v", seed, q.Quarter, seen[code], code, seen)
				}
			}
		}
	}
}

func TestReadersTakeEveryStream(t *testing.T) {
	for _, seed := range seeds {
		s := made(seed)
		read, findings, err := intake.ReadStreams(testkit.Source("streams.geojson", bytes.NewReader(s.Streams)), intake.DefaultOptions())
		if err != nil {
			t.Fatal(err)
		}
		accepted, more := stream.Check(read.Centerlines, stream.Options{})
		if lines := len(seenLines(t, s)); len(accepted) != lines {
			t.Errorf("seed %d: %d of %d lines accepted", seed, len(accepted), lines)
		}
		if found := codes(t, append(findings, more...)); len(found) != 0 {
			t.Errorf("seed %d: findings on streams: %v", seed, found)
		}
	}
}

// codes counts findings by code; an error fails the test.
func codes(t *testing.T, findings []check.Finding) map[string]int {
	t.Helper()
	seen := map[string]int{}
	for _, f := range findings {
		seen[f.Rule.Code]++
		if f.Rule.Severity == check.Error {
			t.Errorf("%s: %s %q: %s", f.File, f.Rule.Code, f.Value, f.Message)
		}
	}
	return seen
}
