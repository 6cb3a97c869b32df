package batch

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
	"driftreach/internal/verify"
)

// packLayers packs what the layers of a finished batch hold as a batch of many records
// would have it, with Go's own writer of archives, and has the manifest list it.
func packLayers(t *testing.T, dir string, layers ...string) {
	t.Helper()
	for _, layer := range layers {
		relist(t, dir, layer, mapfile.PackedName(layer), func(data []byte) []byte {
			var packed bytes.Buffer
			z := zip.NewWriter(&packed)
			entry, err := z.Create(layer)
			if err == nil {
				_, err = entry.Write(data)
			}
			if err == nil {
				err = z.Close()
			}
			if err != nil {
				t.Fatal(err)
			}
			return packed.Bytes()
		})
	}
}

// TestGoesOnFromPackedLayers: a batch that continues one with packed layers has the same bytes as a
// batch that continues the same one unpacked, except for its list of files read. Packed layers are
// verified like the others.
func TestGoesOnFromPackedLayers(t *testing.T) {
	top, first := t.TempDir(), survey.Quarter{Year: 2026, Number: 1}
	plain, packed := filepath.Join(top, "plain", "q1"), filepath.Join(top, "packed", "q1")
	link{in: plainQuarter(first), dir: plain}.deliver(t, "", 1)
	link{in: plainQuarter(first), dir: packed}.deliver(t, "", 1)
	packLayers(t, packed, mapfile.PointsFile, mapfile.ZoneFile, mapfile.ReachesFile, mapfile.LookedFile, mapfile.NextFile)
	report, err := verify.Folder(t.Context(), os.DirFS(packed), nil)
	if err != nil || len(report.Problems) > 0 {
		t.Errorf("%v: %v", report.Problems, err)
	}
	outs := map[string]string{}
	for _, q := range []string{plain, packed} {
		outs[q] = filepath.Join(filepath.Dir(q), "q2")
		in := plainQuarter(first.Next())
		in.Records.Listed = in.Records.Listed[:len(in.Records.Listed)/2] // the others are carried
		link{in: in, dir: outs[q]}.deliver(t, q, 1)
	}
	names, err := disk.FilesUnder(disk.System(), outs[plain])
	if err != nil || len(names) < 20 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		one, err1 := os.ReadFile(filepath.Join(outs[plain], name))
		two, err2 := os.ReadFile(filepath.Join(outs[packed], name))
		if err1 != nil || err2 != nil || name != folder.ManifestName && !bytes.Equal(one, two) {
			t.Errorf("%s differs (%v, %v)", name, err1, err2)
		}
	}
	// a packed layer is compared with its table too
	odd := filepath.Join(t.TempDir(), "q1")
	if err := os.CopyFS(odd, os.DirFS(plain)); err != nil {
		t.Fatal(err)
	}
	relist(t, odd, mapfile.ReachesFile, mapfile.ReachesFile, func(data []byte) []byte {
		return bytes.Replace(data, []byte(`"length_km":`), []byte(`"length_km":9`), 1)
	})
	packLayers(t, odd, mapfile.ReachesFile)
	if report, err := verify.Folder(t.Context(), os.DirFS(odd), nil); err != nil || len(report.Problems) != 1 || report.Problems[0].File != "reaches.csv" {
		t.Errorf("a length that is not the table's: %v, %v", report.Problems, err)
	}
	// a packed layer with other content, or one that is cut off, is reported
	for _, spoil := range []func(data []byte) []byte{
		func(data []byte) []byte {
			return bytes.ReplaceAll(data, []byte(mapfile.PointsFile), []byte("pointz.geojson"))
		},
		func(data []byte) []byte { return data[:len(data)/2] },
	} {
		dir := filepath.Join(t.TempDir(), "q1")
		if err := os.CopyFS(dir, os.DirFS(packed)); err != nil {
			t.Fatal(err)
		}
		name := mapfile.PackedName(mapfile.PointsFile)
		relist(t, dir, name, name, spoil)
		if report, err := verify.Folder(t.Context(), os.DirFS(dir), nil); err != nil || len(report.Problems) == 0 {
			t.Errorf("a spoilt layer is taken: %v", err)
		}
	}
}

// relist changes a file of a batch and its name, and has the manifest list it as it is then.
func relist(t *testing.T, dir, name, now string, change func([]byte) []byte) {
	t.Helper()
	read := func(name string) []byte {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	changed := change(read(name))
	var m map[string]any
	if err := json.Unmarshal(read(folder.ManifestName), &m); err != nil {
		t.Fatal(err)
	}
	for _, out := range m["outputs"].([]any) {
		if out := out.(map[string]any); out["name"] == name {
			out["name"], out["sha256"], out["bytes"] = now, fmt.Sprintf("%x", sha256.Sum256(changed)), len(changed)
		}
	}
	text, err := json.Marshal(m)
	err = errors.Join(err, os.Remove(filepath.Join(dir, name)), os.WriteFile(filepath.Join(dir, now), changed, 0o666),
		os.WriteFile(filepath.Join(dir, folder.ManifestName), text, 0o666))
	if err != nil {
		t.Fatal(err)
	}
}
