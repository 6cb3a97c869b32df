package intake

import (
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

// quarter is the quarter of every test batch.
var quarter = survey.Quarter{Year: 2026, Number: 3}

func testOptions() Options {
	o := DefaultOptions()
	o.Quarter = quarter
	return o
}

// readPoints reads a text and checks it as a batch of its own, as a run does.
func readPoints(t testing.TB, text string, o Options) ([]survey.Record, []check.Finding, Points) {
	t.Helper()
	p, findings, err := ReadPoints(testkit.Source("points", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if p.Read != len(p.Records)+p.Rejected {
		t.Errorf("read %d records, accepted %d, rejected %d", p.Read, len(p.Records), p.Rejected)
	}
	done := survey.Examine(p.Records, survey.DefaultOptions(o.Quarter))
	findings = append(findings, done.Findings...)
	check.Sort(findings)
	aside := 0
	for _, a := range done.Aside {
		aside += a.Records
	}
	if rejected := check.Count(findings, check.Error); p.Read != len(done.Records)+rejected+aside {
		t.Errorf("read %d records, kept %d, told of %d as rejected, %d set aside", p.Read, len(done.Records), rejected, aside)
	}
	return done.Records, findings, p
}

func readStreams(t testing.TB, text string, o Options) ([]stream.Centerline, []check.Finding, Streams) {
	t.Helper()
	s, findings, err := ReadStreams(testkit.Source("streams", strings.NewReader(text)), o)
	if err != nil {
		t.Fatalf("reading failed: %v", err)
	}
	if s.Read != len(s.Centerlines)+s.Rejected {
		t.Errorf("read %d lines, accepted %d, rejected %d", s.Read, len(s.Centerlines), s.Rejected)
	}
	lines, more := stream.Check(s.Centerlines, stream.Options{})
	findings = append(findings, more...)
	check.Sort(findings)
	if rejected := check.Count(findings, check.Error); s.Read != len(lines)+rejected {
		t.Errorf("read %d lines, kept %d, told of %d as rejected", s.Read, len(lines), rejected)
	}
	return lines, findings, s
}

// codes returns "record code" for each finding.
func codes(findings []check.Finding) string {
	var out []string
	for _, f := range findings {
		out = append(out, strings.TrimSpace(f.Record+" "+f.Rule.Code))
	}
	return strings.Join(out, "; ")
}

// single is a mapping with one name per field.
func single(columns map[string]string) map[string]column.Names {
	out := map[string]column.Names{}
	for field, name := range columns {
		out[field] = column.Names{name}
	}
	return out
}
