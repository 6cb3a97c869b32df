package mapfile

import (
	"bytes"
	"crypto/sha256"
	"testing"

	"driftreach/internal/part"
)

// TestZoneTextIsTaken: a map whose zones were written elsewhere has the bytes of one that writes them
// itself, in one document and in parts. The texts are used: one with more bytes comes out in the map. A
// text of another shape is not used.
func TestZoneTextIsTaken(t *testing.T) {
	large := many(MostUnasked+1, 4)
	large.Records.Listed, large.StandOf, large.InZone = large.Records.Listed[:100], large.StandOf[:100], large.InZone[:100]
	addOtherFolders(large)
	run := fixture()
	for range 2 {
		want, err := written(func(b *bytes.Buffer) error { return writeKMZ(b, run, 2) })
		if err != nil || len(run.Zones) == 0 {
			t.Fatal(err, len(run.Zones))
		}
		for name, same := range map[string]bool{"": true, "none": true, "longer": false, "of another shape": true} {
			run.ZoneText = func(body string) (part.Text, bool) {
				for i := range run.Zones {
					if run.Zones[i].WaterBody == body && name != "none" {
						text := ZoneText(run.Zones[i].Geometry)
						if name != "" {
							text.Deflated = append(text.Deflated, 0)
						}
						if name == "of another shape" {
							text.From = [sha256.Size]byte{}
						}
						return text, true
					}
				}
				return part.Text{}, false
			}
			got, err := written(func(b *bytes.Buffer) error { return writeKMZ(b, run, 1) })
			if err != nil || bytes.Equal(got, want) != same {
				t.Errorf("%d stands, text %q: %v, the same bytes: %v", len(run.Stands), name, err, !same)
			}
		}
		run = large
	}
}
