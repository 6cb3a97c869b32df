package observed

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/internal/disk"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// place is a folder for temporary files.
type place string

func (p place) Create(name string) (disk.File, error) {
	return disk.System().Create(filepath.Join(string(p), name))
}

func (p place) Open(name string) (disk.File, error) {
	return disk.System().Open(filepath.Join(string(p), name))
}

// source returns a source of a text that can be read many times.
func source(name, text string) format.Source {
	return format.Source{Name: name, Size: int64(len(text)), Open: func() (io.ReadCloser, error) {
		return io.NopCloser(bytes.NewReader([]byte(text))), nil
	}}
}

// drawPoints draws a file of points: few different ids, places and days, so that records are copies,
// look again, contradict each other or have the same id; ids that end like those made unique; rows
// without id or date, from other quarters, far off, and with words that are not known.
func drawPoints(t *rapid.T, name string) format.Source {
	of := func(label string, words ...string) string { return rapid.SampledFrom(words).Draw(t, label) }
	var text strings.Builder
	extra := of("extra", "", ",crew", ",crew,boat", ",found")
	text.WriteString("occurrenceID,decimalLongitude,decimalLatitude,eventDate,recordedBy,coordinateUncertaintyInMeters" + of("status", "", ",occurrenceStatus") + extra + "\n")
	status := strings.Contains(text.String(), "occurrenceStatus")
	for range rapid.IntRange(0, 40).Draw(t, "rows") {
		fmt.Fprintf(&text, "%s,%s,%s,%s,%s,%s", of("id", "", "a", "a", "a~2", "a~2~2", "a~3", "a-b", "b", "b~2", "z9", "Z"),
			of("lon", "-40", "-40.00001", "-40.001", "40", "x"), of("lat", "-33", "-33.00001"),
			of("day", "", "2026-07-01", "2026-07-02", "2026-08-01", "2026-06-30", "2026-10-01", "soon"), of("by", "", "Ann", "Ben"), of("uncertainty", "", "1", "300"))
		if status {
			text.WriteString("," + of("occurrence", "", "detected", "notDetected", "maybe"))
		}
		switch extra {
		case ",found":
			text.WriteString("," + of("found", "yes", "no", "no"))
		case "":
		default:
			text.WriteString(strings.Repeat(","+of("word", "", "x", "y"), strings.Count(extra, ",")))
		}
		text.WriteString("\n")
	}
	return source(name, text.String())
}

const (
	brooks  = `{"type":"FeatureCollection","features":[{"type":"Feature","properties":{"stream_id":"s"},"geometry":{"type":"LineString","coordinates":[[-40,-33.01],[-40,-32.99]]}}]}`
	oneWork = "treatment_id,decimalLongitude,decimalLatitude,date,method\nt,-40,-33,2026-07-15,foliar spray\n"
)

// TestInTurnIsAtOnce: whatever is in the files, the records that come in turn are those that are
// read at once, to the last field, and in their order.
func TestInTurnIsAtOnce(t *testing.T) {
	s := settings.Default()
	dir, draws, taken := t.TempDir(), 0, 0
	rapid.Check(t, func(t *rapid.T) {
		in := Inputs{Quarter: survey.Quarter{Year: 2026, Number: 3}, Of: map[string]Files{intake.RoleStreams: {Sources: []format.Source{source("streams.geojson", brooks)}}}}
		points := Files{Sources: []format.Source{drawPoints(t, "one/p.csv")}}
		if rapid.Bool().Draw(t, "two files") {
			points.Sources = append(points.Sources, drawPoints(t, "two/p.csv"))
		}
		in.Of[intake.RolePoints] = points
		if rapid.Bool().Draw(t, "work") {
			in.Of[intake.RoleTreatments] = Files{Sources: []format.Source{source("work.csv", oneWork)}}
		}
		want, failed := Read(t.Context(), in, s, host.Host{})
		if failed == nil {
			failed = want.Evidence()
		}
		draws++
		at := filepath.Join(dir, fmt.Sprint(draws))
		if err := disk.System().Mkdir(at); err != nil {
			t.Fatal(err)
		}
		r := room{rapid.IntRange(1, 3000).Draw(t, "run"), rapid.IntRange(1, 20).Draw(t, "block")}
		q, records, err := readInTurn(t.Context(), in, s, host.Host{}, place(at), r)
		var got []survey.Record
		if err == nil {
			err = errors.Join(records.Settle(&q, s), records.Each(func(r *survey.Record) error { got = append(got, *r); return nil }), records.Evidence())
		}
		if errors.Is(err, ErrAtOnce) {
			return // always right, and rare: counted below
		}
		if err != nil || failed != nil {
			t.Fatalf("in turn: %v; at once: %v", err, failed)
		}
		taken++
		settled := want.Settle(nil, s)
		if diff := cmp.Diff(settled.Records, got, cmpopts.EquateNaNs(), cmp.Comparer(func(a, b geo.Meters) bool { return a == b || a != a && b != b }), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("(-at once +in turn)\n%s", diff)
		}
		for i := range q.Files {
			if a, b := want.Files[i], q.Files[i]; a.Name != b.Name || a.Role != b.Role || a.SHA256 != b.SHA256 {
				t.Fatalf("file %d is %s, at once %s", i, b.Name, a.Name)
			}
		}
		if len(q.Files) != len(want.Files) {
			t.Fatalf("%d files, at once %d", len(q.Files), len(want.Files))
		}
	})
	if 4*taken < draws {
		t.Errorf("only %d of %d quarters could be read in turn", taken, draws)
	}
}
