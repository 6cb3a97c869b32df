package testkit

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// KeepVariable is set in the environment to have Kept write its files anew. They must then be looked at
// before they are kept: pictures and pages in a browser.
const KeepVariable = "DRIFTREACH_KEEP"

// Kept compares a file that a test made with the one kept under testdata in its package, and tells the
// first line that differs. A file that is missing there fails the test.
func Kept(t testing.TB, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", filepath.FromSlash(name))
	if os.Getenv(KeepVariable) != "" {
		if err := os.WriteFile(path, got, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v; %s=1 writes it", err, KeepVariable)
	}
	if bytes.Equal(got, want) {
		return
	}
	is, was := bytes.Split(got, []byte("\n")), bytes.Split(want, []byte("\n"))
	for i := range max(len(is), len(was)) {
		var a, b []byte
		if i < len(is) {
			a = is[i]
		}
		if i < len(was) {
			b = was[i]
		}
		if !bytes.Equal(a, b) {
			at := 0
			for at < min(len(a), len(b)) && a[at] == b[at] {
				at++
			}
			from := max(0, at-40)
			t.Errorf("%s, line %d: %q, and kept is %q; if it is meant to change, %s=1 writes it anew to be looked at", path, i+1, a[from:min(len(a), at+120)], b[from:min(len(b), at+120)], KeepVariable)
			return
		}
	}
}
