package quarter

import (
	"context"
	"crypto/sha256"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/batch"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/treatment"
	"driftreach/internal/unit"
)

var frame = earth.NewFrame(orb.Point{-40, -33})

// At is the place of x and y in metres.
func At(x, y float64) orb.Point { return frame.Inverse(orb.Point{x, y}) }

func box(x0, y0, x1, y1 float64) orb.MultiPolygon {
	return orb.MultiPolygon{{{At(x0, y0), At(x1, y0), At(x1, y1), At(x0, y1), At(x0, y0)}}}
}

var nan = math.NaN()

func streamAt(id, name string, x float64) stream.Centerline {
	return stream.Centerline{ID: id, Name: name, FlowShare: geo.Share(nan), BarrierPass: geo.Share(nan), Path: orb.LineString{At(x, 600), At(x, -600)}}
}

// plant is a live find of a patch; day is of its quarter.
func plant(id string, x, y, patch float64, q survey.Quarter) survey.Record {
	day := survey.DayOf(q.Begin().AddDate(0, 1, 4))
	return survey.Record{
		ID: id, Position: At(x, y), Detected: true, PatchArea: geo.SquareMeters(patch), Cover: 50, StemHeight: 4.5, Uncertainty: 3, Begin: day, End: day,
		Notes: survey.Notes{RecordedBy: "K. Ado", Parcel: "P 7", Remarks: "by the ford", Extra: []string{"two", "x"}}.Pack(),
	}
}

// quarterOf has three streams, two reporting units and two columns of the survey's own.
func quarterOf(q survey.Quarter, records ...survey.Record) observed.Quarter {
	return observed.Quarter{
		Quarter: q, Records: survey.Records{Listed: records}, ExtraColumns: []string{"boat", "crew"},
		Centerlines: []stream.Centerline{streamAt("a", "Long Water", 0), streamAt("b", "", 400), streamAt("c", "Side Water", 800)},
		Units:       []unit.Unit{{ID: "e", Name: "East", Areas: box(200, -900, 1500, 900)}, {ID: "w", Name: "West", Areas: box(-900, -900, 200, 900)}},
		Files:       []mapfile.File{{Name: "units.geojson", Role: "units", SHA256: "u1"}, {Name: "streams.geojson", Role: "streams", SHA256: "s1"}},
	}
}

// First and Last are the two quarters of the chain of Two.
var (
	First = survey.Quarter{Year: 2026, Number: 1}
	Last  = First.Next()
)

// Rules are the defaults without draws, for speed, and with the list of where to survey next.
func Rules() settings.Settings {
	s := settings.Default()
	s.Drift.Draws, s.SurveyNext.Write = 0, "always"
	return s
}

// Deliver computes a quarter and writes its folder. It continues the folder before, unless that is blank.
func Deliver(t testing.TB, in observed.Quarter, before, dir string, s settings.Settings) *result.Run {
	t.Helper()
	var err error
	if before != "" {
		if in, err = batch.GoOn(context.Background(), FolderAt(before), in, s, host.Host{}); err != nil {
			t.Fatal(err)
		}
	}
	run, err := batch.Compute(context.Background(), in, s, host.Host{})
	if err == nil {
		err = folder.Make(context.Background(), folder.Out{Dir: dir, Kind: folder.Batch, Quarter: in.Quarter.String()}, func(f *folder.Folder) error {
			return batch.Delivery{Version: "1.0", Settings: s, Inputs: in.Files, Water: in.WaterContent(), Corrections: in.Corrections}.Deliver(f, run, host.Host{})
		})
	}
	if err != nil {
		t.Fatal(err)
	}
	return run
}

// FolderAt is a batch of a chain as a user names it.
func FolderAt(dir string) earlier.Folder {
	return earlier.Folder{Name: "out/before", Path: dir, Version: "1.0"}
}

// Two delivers two quarters of a chain. In the second one stand has grown, one is new, one is no
// longer found, one was not visited, and work was done on one.
func Two(t testing.TB) (dir string, run *result.Run, in observed.Quarter) {
	t.Helper()
	return TwoBy(t, Rules())
}

// TwoBy is Two with other settings.
func TwoBy(t testing.TB, s settings.Settings) (dir string, run *result.Run, in observed.Quarter) {
	t.Helper()
	top := t.TempDir()
	first, dir := filepath.Join(top, "first"), filepath.Join(top, "second")
	drawn := plant("b1", 403, 200, 0, First)
	drawn.Outline, drawn.Status = box(400, 195, 420, 210), survey.Resprout
	drawn.PatchArea = 300
	unmeasured := plant("d1", 405, -400, 0, First)
	unmeasured.Cover, unmeasured.StemHeight, unmeasured.Notes = nan, geo.Meters(nan), ""
	Deliver(t, quarterOf(First, plant("a1", 3, 0, 100, First), plant("a2", 8, 10, 60, First), drawn, plant("c1", 803, -300, 80, First), unmeasured), "", first, s)
	gone := plant("c9", 803, -300, 0, Last)
	gone.Detected = false
	drawn.Begin, drawn.End = survey.DayOf(Last.Begin()), survey.DayOf(Last.Begin())
	in = quarterOf(Last, plant("a1", 3, 0, 150, Last), plant("a2", 8, 10, 60, Last), drawn, gone, plant("n1", 3, 400, 20, Last))
	in.WorkGiven, in.WorkFirst = true, survey.DayOf(Last.Begin())
	in.Actions = []treatment.Treatment{{
		File: "work.csv", Row: 1, Date: time.Date(2026, 6, 20, 0, 0, 0, 0, time.UTC), Position: At(3, 0), Placed: true, Method: "cut stump", TreatedAcres: 0.01,
		Application: treatment.Application{Amount: nan, Wind: nan, Temperature: nan, Hours: nan},
	}}
	return dir, Deliver(t, in, first, dir, s), in
}

// Next is the quarter that continues the second, with the same streams, units and settings.
func Next(in observed.Quarter) *earlier.Now {
	return &earlier.Now{
		Quarter: Last.Next(), Records: in.Records, Centerlines: in.Centerlines, Units: in.Units, Settings: Rules(),
		Water: earlier.WaterSums{Content: in.WaterContent(), Files: earlier.SumsByRole(in.Files)},
	}
}

// Relist changes a file of a batch, and its manifest with it, so that they agree. To no text it takes
// the file out of both.
func Relist(t testing.TB, dir, name string, change func(text string) string) {
	t.Helper()
	path, manifest := filepath.Join(dir, filepath.FromSlash(name)), filepath.Join(dir, folder.ManifestName)
	text, err := os.ReadFile(path)
	said, wrong := os.ReadFile(manifest)
	var m map[string]any
	if err := errors.Join(err, wrong, json.Unmarshal(said, &m)); err != nil {
		t.Fatal(err)
	}
	changed := change(string(text))
	if changed == string(text) {
		t.Fatalf("%s is not changed", name)
	}
	var listed []any
	for _, out := range m["outputs"].([]any) {
		if o := out.(map[string]any); o["name"] == name {
			if changed == "" {
				continue
			}
			o["sha256"], o["bytes"] = fmt.Sprintf("%x", sha256.Sum256([]byte(changed))), len(changed)
		}
		listed = append(listed, out)
	}
	m["outputs"] = listed
	said, err = json.Marshal(m)
	if err := errors.Join(err, os.WriteFile(path, []byte(changed), 0o600), os.WriteFile(manifest, said, 0o600)); err != nil {
		t.Fatal(err)
	}
}
