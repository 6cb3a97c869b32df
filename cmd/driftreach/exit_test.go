package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/format"
	"driftreach/internal/settings"
)

func TestEveryErrorHasItsExitCode(t *testing.T) {
	cases := []struct {
		name string
		err  error
		code int
		said string // on stderr
	}{
		{"none", nil, 0, ""},
		{"rejected records", errRejected, 1, ""},
		{"usage", &usageError{"no quarter", "name it"}, 2, "driftreach: error: no quarter\ndriftreach: hint: name it\n"},
		{"setting", &settings.Error{Where: "a.toml line 2", Problem: "unknown setting x", Remedy: "did you mean y?"}, 2,
			"driftreach: error: a.toml line 2: unknown setting x\ndriftreach: hint: did you mean y?\n"},
		{"input absent", &inputError{errors.New("open input: a.csv: no such file"), "check the name"}, 3,
			"driftreach: error: open input: a.csv: no such file\ndriftreach: hint: check the name\n"},
		{"input unusable, deep inside", fmt.Errorf("run quarter 2026Q3: %w", &format.UnusableError{File: "a.csv", Place: "row 3", Found: "bad", Remedy: "repair it"}), 3,
			"driftreach: error: run quarter 2026Q3: a.csv, row 3: bad\ndriftreach: hint: repair it\n"},
		{"output", &folder.OutputError{Path: "out", Err: &fs.PathError{Op: "open", Path: "/x/.out.driftreach-part", Err: errors.New("no space")}}, 4,
			"driftreach: error: write out: no space\ndriftreach: hint: see that"},
		{"interrupted", fmt.Errorf("read a.csv: %w", context.Canceled), 130, "driftreach: error: interrupted; nothing was left behind\n"},
		{"interrupted while leaving", errors.Join(context.Canceled, &folder.OutputError{Path: "out", Err: errors.New("busy")}), 130, "interrupted"},
		{"unforeseen", errors.New("what is this"), 3, "driftreach: error: what is this\n"},
		{"text that would steer the terminal", &usageError{"unknown \x1b[31mred\nline", ""}, 2, `driftreach: error: unknown \u001b[31mred line` + "\n"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var stderr bytes.Buffer
			p := &program{ctx: t.Context(), stdout: &stderr, stderr: &stderr, disk: disk.System()}
			if code := p.report(c.err); code != c.code {
				t.Errorf("exit code %d, want %d", code, c.code)
			}
			if !strings.HasPrefix(stderr.String(), c.said) && !strings.Contains(stderr.String(), c.said) || c.said == "" && stderr.Len() > 0 {
				t.Errorf("said %q, want %q", stderr.String(), c.said)
			}
		})
	}
}

// Help lists every exit code once, ascending; the constants by hand.
func TestHelpTellsTheExitCodes(t *testing.T) {
	text, at := exitText(plainWidth), 0
	for _, code := range []int{0, 1, 2, 3, 4, 5, 130} {
		line := fmt.Sprintf("\n  %-4d ", code)
		if k := strings.Index(text, line); k < at || strings.Count(text, line) != 1 {
			t.Errorf("--help does not tell exit code %d in its place:\n%s", code, text)
		} else {
			at = k
		}
	}
}

func TestEveryCommandHasHelpWithAnExampleOfItself(t *testing.T) {
	p := &program{ctx: t.Context(), stdout: new(bytes.Buffer), stderr: new(bytes.Buffer), disk: disk.System()}
	for _, c := range p.commands() {
		if c.line == "" || c.text == "" || !strings.HasPrefix(c.example, "driftreach "+c.name) {
			t.Errorf("%s: line %q, example %q", c.name, c.line, c.example)
		}
	}
}
