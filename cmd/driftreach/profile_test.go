package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestProfile asks for a profile: both files are those of pprof, which are gzip.
func TestProfile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "run")
	t.Setenv(profileVariable, name)
	var told bytes.Buffer
	profile(&told)()
	for _, kind := range []string{".cpu", ".mem"} {
		data, err := os.ReadFile(name + kind)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
			t.Errorf("%s begins with % x, want gzip", kind, data[:min(2, len(data))])
		}
	}
	t.Setenv(profileVariable, filepath.Join(name, "missing"))
	profile(&told)()
	if !bytes.Contains(told.Bytes(), []byte("profile: ")) {
		t.Errorf("a profile that cannot be written is not told: %q", told.String())
	}
}
