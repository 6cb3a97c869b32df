package mapfile

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"driftreach/internal/folder"
)

// TestReadMaker: by hand. The format number is read from any manifest, even one of a later format;
// a manifest without a number has the first format.
func TestReadMaker(t *testing.T) {
	newer := new(NewerFormatError)
	for _, c := range []struct {
		text   string
		format int
		want   error
	}{
		{`{"program":"driftreach","version":"0.1.0","quarter":"2026Q2"}`, 1, nil},
		{`{"program":"driftreach","format":1}`, 1, nil},
		{`{"program":"driftreach","format":2}`, 2, nil},
		{`{"program":"driftreach","format":3}`, 3, nil},
		{fmt.Sprintf(`{"program":"driftreach","format":%d,"quarter":{"year":2031},"outputs":"none"}`, Format+1), Format + 1, newer},
		{`{"program":"driftreach","format":0}`, 0, ErrNoFormat},
		{`{"program":"driftreach","format":-1}`, -1, ErrNoFormat},
		{`{"program":"driftreach","format":"2"}`, 1, ErrNoFormat},
		{`{"program":"driftreach","format":2.5}`, 1, ErrNoFormat},
		{`{"program":"elsewhere","format":7}`, 1, ErrForeign},
		{`[]`, 0, ErrUnreadable},
		{`{"program":"driftreach"`, 0, ErrUnreadable},
	} {
		m, err := ReadMaker([]byte(c.text))
		same := errors.Is(err, c.want)
		if c.want == newer {
			same = errors.As(err, &newer) && strings.Contains(err.Error(), fmt.Sprintf("format %d", Format+1)) && newer.Hint() != ""
		}
		if !same || m.Format != c.format {
			t.Errorf("%s: format %d, %v; want %d, %v", c.text, m.Format, err, c.format, c.want)
		}
	}
}

// A written manifest has the present format number, whoever made it.
func TestManifestsCarryTheirFormat(t *testing.T) {
	text, err := written(func(b *bytes.Buffer) error { return WriteManifest(b, Manifest{Program: folder.Program, Version: "9"}) })
	if err != nil {
		t.Fatal(err)
	}
	if m, err := ReadMaker(text); err != nil || m != (Maker{folder.Program, "9", Format}) {
		t.Errorf("%+v, %v", m, err)
	}
}

// TestKnownVersion: by hand, from the rule of FormatVersion.
func TestKnownVersion(t *testing.T) {
	for v, want := range map[string]bool{"": true, "1.0": true, "1.7": true, "2.0": true, "2.3": true, "3.0": false, "0.9": false, "1": false, "1.x": false, "10.0": false} {
		if KnownVersion(v) != want {
			t.Errorf("%q: %v, want %v", v, !want, want)
		}
	}
}
