package batch

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/survey"
)

// plainQuarter is a quarter of three finds and an absence over two streams.
func plainQuarter(q survey.Quarter) observed.Quarter {
	in := observed.Quarter{Quarter: q, Centerlines: chainStreams, ExtraColumns: []string{"crew"}}
	for i, at := range []orb.Point{{3, 0}, {8, 10}, {403, 200}, {803, -300}} {
		in.Records.Listed = append(in.Records.Listed, survey.Record{
			ID: fmt.Sprintf("p%02d", i), Position: chainFrame.Inverse(at), Detected: i < 3, Status: survey.Status(i),
			Cover: 50, StemHeight: geo.Meters(math.NaN()), PatchArea: geo.SquareMeters(100 + i), Notes: survey.Notes{Extra: []string{"two"}}.Pack(),
		})
	}
	return in
}

// again is the bit of a file's number that asks for other rules of stands, so that
// the acres of the earlier batch are measured again from its records.
const again = 0x80

// FuzzEarlier continues a batch of which one file has any content, whether the manifest agrees with it
// or not. The batch is refused with the error for an earlier batch, or every figure read from it is
// possible: finite, not negative, and of stands with different identities.
func FuzzEarlier(f *testing.F) {
	top := f.TempDir()
	first := survey.Quarter{Year: 2026, Number: 1}
	link{in: plainQuarter(first), dir: filepath.Join(top, "first")}.deliver(f, "", 1)
	sound := filepath.Join(top, "second")
	second := plainQuarter(first.Next())
	second.Records.Listed = second.Records.Listed[1:]
	link{in: second, dir: sound}.deliver(f, filepath.Join(top, "first"), 1)

	names := []string{folder.ManifestName, mapfile.StandsFile, mapfile.AbsentFile, mapfile.LookedFile, mapfile.PointsFile, mapfile.HistoryFile, mapfile.FollowupFile, mapfile.CalendarFile, "summary.csv", "stand_units.csv"}
	texts := map[string][]byte{}
	for k, name := range names {
		for _, from := range []string{sound, filepath.Join(top, "first")} {
			if text, err := os.ReadFile(filepath.Join(from, name)); err == nil {
				texts[name] = text // of the first at last
				f.Add(uint8(k), text)
			}
		}
	}
	// several other files of a kind: cut, emptied, with figures no batch has
	for k, name := range names {
		text := texts[name]
		f.Add(uint8(k), text[:len(text)/2])
		f.Add(uint8(k), bytes.ReplaceAll(text, []byte("0."), []byte("-1e300")))
		f.Add(uint8(k), bytes.ReplaceAll(text, []byte("2026Q1"), []byte("1602Q4")))
	}
	patches := regexp.MustCompile(`"patch_area_m2":[0-9.]+`)
	for _, measure := range []string{"1e308", "-5", "0", "1e9"} {
		f.Add(again|uint8(slices.Index(names, mapfile.PointsFile)), patches.ReplaceAll(texts[mapfile.PointsFile], []byte(`"patch_area_m2":`+measure)))
	}
	next := plainQuarter(first.Next().Next())
	f.Fuzz(func(t *testing.T, which uint8, text []byte) {
		name, settings := names[int(which&^again)%len(names)], chainSettings()
		if which&again != 0 {
			settings.Stands.DefaultPatch *= 3
		}
		dir := filepath.Join(t.TempDir(), "earlier")
		if err := os.CopyFS(dir, os.DirFS(sound)); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), text, 0o666); err != nil {
			t.Fatal(err)
		}
		agree(t, dir, name, text)
		in := next
		in.Records.Listed = slices.Clone(next.Records.Listed)
		after, err := GoOn(context.Background(), earlier.Folder{Name: "earlier", Path: dir, Version: "test"}, in, settings, host.Host{Workers: 1})
		var refused *earlier.Error
		if err != nil {
			if !errors.As(err, &refused) || refused.Remedy == "" {
				t.Fatalf("%s: %v is no refusal", name, err)
			}
			return
		}
		seen := map[string]bool{}
		for _, k := range after.Previous.Known {
			if seen[k.ID] || k.ID == "" {
				t.Fatalf("%s: stand %q twice or without a name", name, k.ID)
			}
			seen[k.ID] = true
			for _, figure := range []float64{float64(k.Gross), float64(k.Infested), float64(k.Canopy)} {
				if math.IsNaN(figure) || math.IsInf(figure, 0) || figure < 0 {
					t.Fatalf("%s: stand %s has %v", name, k.ID, figure)
				}
			}
		}
		if _, err := Compute(context.Background(), after, settings, host.Host{Workers: 1}); err != nil {
			t.Logf("%s: %v", name, err)
		}
	})
}

// agree makes a folder's manifest list a file as it is now.
func agree(t *testing.T, dir, name string, text []byte) {
	t.Helper()
	if name == folder.ManifestName {
		return
	}
	path := filepath.Join(dir, folder.ManifestName)
	old, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var m map[string]any
	if err := json.Unmarshal(old, &m); err != nil {
		t.Fatal(err)
	}
	for _, output := range m["outputs"].([]any) {
		if o := output.(map[string]any); o["name"] == name {
			o["bytes"], o["sha256"] = len(text), fmt.Sprintf("%x", sha256.Sum256(text))
		}
	}
	now, err := json.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, now, 0o666); err != nil {
		t.Fatal(err)
	}
}
