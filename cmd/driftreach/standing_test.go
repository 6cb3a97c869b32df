package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"driftreach/internal/disk"
)

// swapping is a disk on which another run puts another folder into a folder's place
// when a file of it is opened, as often as left says.
type swapping struct {
	disk.Disk
	file       string // the file
	one, other string // the folder, and what takes its place
	left       atomic.Int32
	aside      string // where the folder stands instead, on a system without an exchange
}

func (d *swapping) Open(path string) (disk.File, error) {
	if filepath.Base(path) != d.file || d.left.Add(-1) < 0 {
		return d.Disk.Open(path)
	}
	if d.aside != "" {
		if err := os.Rename(d.one, d.aside); err != nil {
			return nil, err
		}
		return d.Disk.Open(path)
	}
	if err := d.Disk.Exchange(d.one, d.other); err != nil {
		return nil, err
	}
	return d.Disk.Open(path)
}

// A reader in whose middle another run replaces the folder reads the new one whole,
// and says so when it is replaced again and again: it never takes it for damaged.
func TestAReaderInTheMiddleOfAnExchange(t *testing.T) {
	top := t.TempDir()
	in := faultInputs(t, top)
	at := func(name string) string { return filepath.Join(top, name) }
	batchOf := func(quarter, out string, more ...string) []string {
		return append([]string{"batch", "--points", in + "/points-" + quarter + ".csv", "--streams", in + "/streams.geojson", "--settings", in + "/settings.toml",
			"--workers", "1", "--quarter", quarter, "--out", out}, more...)
	}
	mustRun(t, batchOf("2026Q2", at("2026Q2"))...)
	text, err := os.ReadFile(in + "/points-2026Q2.csv")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(in+"/points-2026Q2.csv", []byte(strings.ReplaceAll(string(text), ",200,", ",300,")), 0o666); err != nil {
		t.Fatal(err)
	}
	mustRun(t, batchOf("2026Q2", at("other"))...)
	goOn := func(out string) []string { return batchOf("2026Q3", at(out), "--previous", at("2026Q2")) }
	for _, c := range []struct {
		name, file string
		args       []string
	}{
		{"batch", "stands.geojson", goOn("2026Q3")},
		{"batch late", "history.csv", goOn("2026Q3-late")},
		{"trend", "summary.csv", []string{"trend", at("2026Q2"), "--out", at("trend")}},
	} {
		for left, want := range map[int32]int{1: exitDone, 2: exitDone, 99: exitInput} {
			d := &swapping{Disk: disk.System(), file: c.file, one: at("2026Q2"), other: at("other")}
			d.left.Store(left)
			var text bytes.Buffer
			p := &program{ctx: t.Context(), stdout: &text, stderr: &text, disk: d}
			code := p.report(p.run(c.args))
			said := text.String()
			if code != want && !(want == exitDone && code == exitFindings) || strings.Contains(said, "damaged") || want == exitInput && !strings.Contains(said, "another run put a new batch into its place") {
				t.Errorf("%s, replaced %d times: %d, want %d: %s", c.name, left, code, want, said)
			}
		}
		d := &swapping{Disk: disk.System(), file: c.file, one: at("2026Q2"), aside: at(".2026Q2.driftreach-old")}
		d.left.Store(1)
		var text bytes.Buffer
		p := &program{ctx: t.Context(), stdout: &text, stderr: &text, disk: d}
		if code := p.report(p.run(c.args)); code > exitFindings || !strings.Contains(text.String(), "set aside") {
			t.Errorf("%s, set aside meanwhile: %d: %s", c.name, code, text.String())
		}
		if err := os.Rename(d.aside, d.one); err != nil {
			t.Fatal(err)
		}
	}
}
