package mapfile

import (
	"bytes"
	"testing"
)

// TestManifest: the text by hand; counts are sorted, and markup stays readable.
func TestManifest(t *testing.T) {
	m := Manifest{
		Program: "driftreach", Version: "dev", Quarter: "2026Q3", Settings: struct{ A int }{1}, Assumed: []string{"a.b"}, Seed: 7,
		Inputs:  []File{{Name: "a<b>.csv", Role: "points", SHA256: "00", Bytes: 3, Read: 2, Accepted: 1, Rejected: 1}},
		Outputs: []File{}, Counts: map[string]int{"stands": 2, "reaches": 1}, Balance: []Balance{{Stage: "base", Released: 1, Settled: 0.4, Held: 0.25, Aged: 0.1, Left: 0.25}},
	}
	const want = `{
  "program": "driftreach",
  "version": "dev",
  "format": 3,
  "format_version": "2.0",
  "quarter": "2026Q3",
  "settings": {
    "A": 1
  },
  "assumed": [
    "a.b"
  ],
  "seed": 7,
  "inputs": [
    {
      "name": "a<b>.csv",
      "role": "points",
      "sha256": "00",
      "bytes": 3,
      "read": 2,
      "accepted": 1,
      "rejected": 1
    }
  ],
  "outputs": [],
  "counts": {
    "reaches": 1,
    "stands": 2
  },
  "balance": [
    {
      "stage": "base",
      "released": 1,
      "settled": 0.4,
      "held_at_barriers": 0.25,
      "lost_to_age": 0.1,
      "left_at_outlets": 0.25
    }
  ]
}
`
	got, err := written(func(b *bytes.Buffer) error { return WriteManifest(b, m) })
	if err != nil || string(got) != want {
		t.Errorf("%v\n%s", err, got)
	}
}
