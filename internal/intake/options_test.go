package intake

import (
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit"
)

func TestOptionsValidate(t *testing.T) {
	if err := DefaultOptions().Validate(); err != nil {
		t.Error(err)
	}
	for name, change := range map[string]func(*format.Limits){
		"bytes": func(l *format.Limits) { l.Bytes = 0 }, "records": func(l *format.Limits) { l.Records = -1 }, "record bytes": func(l *format.Limits) { l.RecordBytes = 0 },
		"vertices": func(l *format.Limits) { l.Vertices = 0 }, "columns": func(l *format.Limits) { l.Columns = 0 }, "nesting": func(l *format.Limits) { l.Nesting = 0 },
	} {
		o := DefaultOptions()
		change(&o.Limits)
		if err := o.Validate(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("without %s: %v", name, err)
		}
		if _, _, err := ReadPoints(testkit.Source("p", strings.NewReader(plainText)), o); err == nil {
			t.Errorf("a file is read without a limit of %s", name)
		}
	}
}

// TestRulesApart: no two rules for inputs share a code, so a code in a finding has one meaning.
func TestRulesApart(t *testing.T) {
	seen := map[string]bool{}
	for _, rules := range [][]check.Rule{Rules(), survey.Rules(), stream.Rules()} {
		for _, r := range rules {
			if seen[r.Code] || r.Code == "" || r.Remedy == "" {
				t.Errorf("%+v", r)
			}
			seen[r.Code] = true
		}
	}
}

// TestFindingsAlike: a fault in every record is reported once.
func TestFindingsAlike(t *testing.T) {
	o := testOptions()
	o.Limits.FindingsAlike = 10
	text := header + ",management_status\n" + strings.Repeat("r,1,2,2026-07-01,gone\n", 50)
	_, findings, err := ReadPoints(testkit.Source("p", strings.NewReader(text)), o)
	if err != nil || len(findings) != 1 || !strings.HasPrefix(findings[0].Message, "50 records") {
		t.Errorf("%v, %v", err, findings)
	}
}

func TestFieldNames(t *testing.T) {
	if f := column.FieldNames(pointFields); len(f) != 17 || f[0] != "occurrenceID" || f[16] != "occurrenceRemarks" {
		t.Errorf("%v", f)
	}
	if f := column.FieldNames(streamFields); len(f) != 20 || f[0] != "stream_id" || f[19] != "flow_permanence" {
		t.Errorf("%v", f)
	}
}
