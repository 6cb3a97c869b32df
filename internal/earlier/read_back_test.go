package earlier_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/geo"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// read returns the batch in a folder as the next quarter reads it.
func read(t *testing.T, dir string, now *earlier.Now) *earlier.Batch {
	t.Helper()
	p, err := earlier.Read(context.Background(), quarter.FolderAt(dir), now, host.Host{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// knownText is what a known stand is, with measures to the digits that the files have.
func knownText(k *lineage.Known) string {
	day := func(d interface{ Format(string) string }) string { return d.Format("2006-01-02") }
	box := k.Footprint.Bound()
	return fmt.Sprintf("%s alone %v acres %d %d %d, %d in the zone, cover %.2f, height %.1f, %s, %s to %s, %v, within %.6f %.6f, on %s %q, found %s, gone since %s, %v, ever %d missing %d lost %v",
		k.ID, k.Isolated, k.Gross.Grains(), k.Infested.Grains(), k.Canopy.Grains(), k.Zone.Grains(), k.CoverPercent, k.StemHeight, k.Status, day(k.First), day(k.Last), k.Assumed,
		box.Min, box.Max, k.StreamID, k.WaterBody, k.Quarter, k.Since, k.Absent, k.Memory.Ever, k.Memory.Missing, k.Memory.Lost)
}

// TestAFolderGivesBackItsBatch: what is read from the folder of a batch is what the batch was before
// it was written: every stand, found or gone, with its acres to the last grain; the records with their
// own columns and the quarter they are from; the ground that was surveyed; the work and the visits.
func TestAFolderGivesBackItsBatch(t *testing.T) {
	dir, run, in := quarter.Two(t)
	p := read(t, dir, quarter.Next(in))
	var want, got []string
	for i := range run.Stands {
		s := &run.Stands[i]
		line := run.Line(s.Zone.Line)
		k := lineage.Known{Stand: s.Stand, Zone: s.Zone.Area, StreamID: line.ID, WaterBody: line.Name, Quarter: run.Quarter, Memory: s.Memory}
		if s.CarriedFrom != (survey.Quarter{}) {
			k.Quarter = s.CarriedFrom
		}
		want = append(want, knownText(&k))
	}
	for i := range run.Absent {
		k := run.Absent[i].Known
		k.Absent, k.CoverPercent, k.StemHeight = true, 0, geo.Meters(math.NaN()) // these are of plants that are there
		want = append(want, knownText(&k))
	}
	for k := range p.Known {
		got = append(got, knownText(&p.Known[k]))
		if box := p.Known[k].Footprint.Bound(); !box.Contains(p.Known[k].Center) {
			t.Errorf("the middle of %s, %v, is outside %v", p.Known[k].ID, p.Known[k].Center, box)
		}
	}
	slices.Sort(want)
	if d := cmp.Diff(want, got); d != "" || len(run.Absent) != 1 || len(run.Stands) != 5 {
		t.Errorf("%d stands and %d gone: %s", len(run.Stands), len(run.Absent), d)
	}
	want, got = nil, nil
	for i, r := range run.Records.Listed {
		if run.StandOf[i] < 0 {
			continue
		}
		from := run.Quarter
		if run.CarriedFrom[i] != (survey.Quarter{}) {
			from = run.CarriedFrom[i]
		}
		want = append(want, recordText(&r, from, run.Stands[run.StandOf[i]].ID))
	}
	standOf := map[int32]string{}
	for k := range p.Known {
		for _, m := range p.Known[k].Members {
			standOf[m] = p.Known[k].ID
		}
	}
	for i := range p.Records {
		got = append(got, recordText(&p.Records[i], p.From[i], standOf[int32(i)]))
	}
	if d := cmp.Diff(want, got); d != "" || len(want) != 5 {
		t.Errorf("%d records: %s", len(want), d)
	}
	if d := cmp.Diff([]string{"boat", "crew"}, p.ExtraColumns); d != "" {
		t.Error(d)
	}
	for _, place := range [][2]float64{{3, 0}, {803, -300}, {405, -400}, {3, 400}, {-700, 0}} {
		if at := quarter.At(place[0], place[1]); p.Looked.Holds(at) != (place[0] > 0) {
			t.Errorf("the ground at %v was surveyed: %v", place, place[0] < 0)
		}
	}
	if len(p.Followup) != 6 || len(p.Events) == 0 || len(p.Treatments) != 1 || p.Treatments[0].Method != "cut stump" || p.Quarter != quarter.Last || p.Chain != run.Chain || len(p.Ever) == 0 || len(p.Stretches.Stretches) == 0 || p.Stretches.Quarter != quarter.Last {
		t.Errorf("%d visits, %d events, work %v, of %s, chain %s, %d stages", len(p.Followup), len(p.Events), p.Treatments, p.Quarter, p.Chain, len(p.Ever))
	}
	if len(p.LookChanges) == 0 || len(p.LookChanges) != len(run.LookChanges) || len(p.Findings) != 0 || p.Restated || p.Elsewhere || len(p.ReachApart) != 0 || p.Units != nil {
		t.Errorf("%d changes of %d, findings %v, restated %v, elsewhere %v, apart %v, units %v", len(p.LookChanges), len(run.LookChanges), p.Findings, p.Restated, p.Elsewhere, p.ReachApart, p.Units)
	}
}

// recordText is what a record is, its place to the decimals of points.geojson.
func recordText(r *survey.Record, from survey.Quarter, on string) string {
	notes := r.Told()
	for len(notes.Extra) < 2 {
		notes.Extra = append(notes.Extra, "")
	}
	area := 0.0
	if r.Outline != nil {
		area = math.Round(float64(geo.PolygonArea(r.Outline)))
	}
	return fmt.Sprintf("%s at %.7f %.7f, %s to %s, within %v, patch %.3f of %v drawn, cover %v, height %v, %s, detected %v, from %s, on %s, %q", r.ID, r.Position[0], r.Position[1], r.Begin, r.End,
		r.Uncertainty, float64(r.PatchArea), area, r.Cover, r.StemHeight, r.Status, r.Detected, from, on, notes)
}

// TestFilesReadAreListed: each file of a batch that is read is named for the manifest of the next one,
// with the number of rows or features in it, counted here by lines.
func TestFilesReadAreListed(t *testing.T) {
	dir, run, in := quarter.Two(t)
	got := map[string]int{}
	for _, f := range read(t, dir, quarter.Next(in)).Files {
		if f.Role != mapfile.PreviousRole || f.Read != f.Accepted || f.Bytes == 0 || len(f.SHA256) != 64 {
			t.Errorf("%+v", f)
		}
		got[strings.TrimPrefix(f.Name, "out/before/")] = f.Read
	}
	for name, want := range map[string]int{
		folder.ManifestName: 1, mapfile.StandsFile: len(run.Stands), mapfile.AbsentFile: 1, mapfile.PointsFile: len(run.Records.Listed), mapfile.FollowupFile: 6, mapfile.WorkFile: 1,
		mapfile.HistoryFile: len(run.History.Rows) + len(result.Summarize(run)), mapfile.LookedFile: run.Surveyed.Len(), mapfile.NextFile: len(run.Stretches),
	} {
		if got[name] != want {
			t.Errorf("%s has %d rows, want %d", name, got[name], want)
		}
	}
}

// TestWhatIsOtherNow: what differs between the two quarters and so makes figures hard to compare, one
// thing at a time: stands are measured again under other rules, places along other streams are new,
// and the reach is not compared.
func TestWhatIsOtherNow(t *testing.T) {
	dir, _, in := quarter.Two(t)
	water := func(role, sum string) func(now *earlier.Now) {
		return func(now *earlier.Now) { now.Water.Content[role] = sum }
	}
	lines := func(change func(l *stream.Centerline)) func(now *earlier.Now) {
		return func(now *earlier.Now) {
			now.Centerlines = slices.Clone(now.Centerlines)
			change(&now.Centerlines[0])
		}
	}
	for _, c := range []struct {
		name                string
		change              func(now *earlier.Now)
		restated, elsewhere bool
		apart               string
		units               int
	}{
		{"nothing", func(*earlier.Now) {}, false, false, "", 0},
		{"a larger patch where none is told", func(now *earlier.Now) { now.Settings.Stands.DefaultPatch *= 2 }, true, true, "stands.default_patch_acres", 2},
		{"the join distance", func(now *earlier.Now) { now.Settings.Stands.JoinDistance = 40 }, true, true, "stands.join_distance_m", 2},
		{"the setback", func(now *earlier.Now) { now.Settings.Aquatic.Setback = 40 }, false, true, "aquatic.setback_m", 0},
		{"the half distance", func(now *earlier.Now) { now.Settings.Drift.HalfDistanceByOrder[0] *= 2 }, false, false, "drift.half_distance_by_order_km", 0},
		{"a word of the crew sheets", func(now *earlier.Now) { now.Settings.Crew.Drying = "bank" }, false, false, "", 0},
		{"streams by content", water("streams", "x"), false, true, "streams", 0},
		{"barriers by content", water("barriers", "x"), false, true, "barriers", 0},
		{"the stream file", func(now *earlier.Now) { now.Water.Files["streams"] = []string{"x"} }, false, true, "", 0},
		{"the water file", func(now *earlier.Now) { now.Water.Files["water"] = []string{"x"} }, false, true, "", 0},
		{"the unit file", func(now *earlier.Now) { now.Water.Files["units"] = []string{"x"} }, false, false, "", 2},
		{"a stream's name", lines(func(l *stream.Centerline) { l.Name = "Other" }), false, true, "", 0},
		{"a stream's id", lines(func(l *stream.Centerline) { l.ID = "z" }), false, true, "", 0},
	} {
		now := quarter.Next(in)
		now.Settings.Drift.HalfDistanceByOrder = slices.Clone(now.Settings.Drift.HalfDistanceByOrder)
		c.change(now)
		p := read(t, dir, now)
		if got := strings.Join(p.ReachApart, ", "); p.Restated != c.restated || p.Elsewhere != c.elsewhere || got != c.apart || len(p.Units) != c.units {
			t.Errorf("%s: restated %v, elsewhere %v, apart %q, %d units", c.name, p.Restated, p.Elsewhere, got, len(p.Units))
		}
	}
}

// TestUnitsAsPrinted: the acres that the batch printed by unit are read in grains, by hand from the
// cells of its history.
func TestUnitsAsPrinted(t *testing.T) {
	dir, run, in := quarter.Two(t)
	now := quarter.Next(in)
	now.Water.Files["units"] = []string{"x"}
	want := map[string]int64{}
	for i := range run.Stands {
		for _, share := range run.Stands[i].Shares {
			if share.Unit >= 0 {
				want[run.Units[share.Unit].Name] += share.Infested
			}
		}
	}
	got := map[string]int64{}
	for _, u := range read(t, dir, now).Units {
		got[u.Name] = u.Infested
		if (u.ID == "e") != (u.Name == "East") || u.Scope != result.InUnit {
			t.Errorf("%+v", u)
		}
	}
	for name, acres := range want {
		if d := math.Abs(float64(got[name] - acres)); d > 1e6/2 { // printed to four decimals or more
			t.Errorf("%s has %d grains, want %d", name, got[name], acres)
		}
	}
	if len(got) != 2 || len(want) != 2 {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestMeasuredAgain: a find without a measured patch gets the area that the setting says now, and
// a measured one keeps its own. Of a stand that was not detected the records are gone, so that its
// acres stay. What the batch printed is kept.
func TestMeasuredAgain(t *testing.T) {
	dir, run, in := quarter.Two(t)
	same := read(t, dir, quarter.Next(in))
	now := quarter.Next(in)
	now.Settings.Stands.DefaultPatch = 3 * settings.Default().Stands.DefaultPatch
	other := read(t, dir, now)
	for k := range other.Known {
		was, is, then := &same.Known[k], &other.Known[k], other.Then[k]
		times := float64(is.Infested) / float64(was.Infested)
		want := 1.0
		if len(was.Assumed) > 0 && !was.Absent { // the one without a measure
			want = 3
		}
		if math.Abs(times-want) > 0.01 {
			t.Errorf("%s has %.3f times its acres, want %v", is.ID, times, want)
		}
		if is.ID != was.ID || is.First != was.First || is.Last != was.Last || is.Isolated != was.Isolated || then.StreamID != was.StreamID || then.WaterBody != was.WaterBody {
			t.Errorf("%s is %s now; then %+v", was.ID, is.ID, then)
		}
		if !was.Absent && then.Infested != was.InfestedAcres() || was.Absent && then.Infested != 0 {
			t.Errorf("%s printed %d grains, want %d", is.ID, then.Infested, was.InfestedAcres())
		}
		if want == 3 && is.Memory.Ever != is.InfestedAcres() || want == 1 && is.Memory != was.Memory {
			t.Errorf("%s had %+v, now %+v", is.ID, was.Memory, is.Memory)
		}
	}
	if len(other.Known) != len(run.Stands)+1 {
		t.Errorf("%d stands", len(other.Known))
	}
}

// TestOnlyAnotherAreaIsKept: a new batch replaces one of the same area, and one whose stands are beside
// its streams or its records. It is refused if stands of the old one are far from both.
func TestOnlyAnotherAreaIsKept(t *testing.T) {
	dir, _, in := quarter.Two(t)
	far := stream.Centerline{ID: "f", Path: in.Centerlines[0].Path.Clone()}
	for i := range far.Path {
		far.Path[i][0] += 1
	}
	away := slices.Clone(in.Records.Listed)
	for i := range away {
		away[i].Position[0] += 1
	}
	for _, c := range []struct {
		name    string
		records []survey.Record
		lines   []stream.Centerline
		want    string
	}{
		{"the same", in.Records.Listed, in.Centerlines, ""},
		{"other streams", away, []stream.Centerline{far}, "another area: 5 of its 5 stands are more than 20 km from every stream of this one"},
		{"one of the streams", away, []stream.Centerline{far, in.Centerlines[0]}, "another area: 5 of its 5 stands are more than 20 km from every record of this one"},
		{"no streams", in.Records.Listed, nil, ""},
		{"no streams and other records", away, nil, "stands are more than 20 km from every record of this one"},
		{"no streams and no records", nil, nil, ""},
	} {
		err := folder.Make(context.Background(), folder.Out{Dir: dir, Kind: folder.Batch, Quarter: quarter.Last.String()}, func(f *folder.Folder) error {
			now := &earlier.Now{Records: survey.Records{Listed: c.records}, Centerlines: c.lines}
			if err := earlier.KeepArea(context.Background(), f, now, host.Host{}); err != nil {
				return err
			}
			return errEnough
		})
		said := ""
		if !errors.Is(err, errEnough) {
			said = err.Error()
		}
		if (said == "") != (c.want == "") || !strings.Contains(said, c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
	}
	empty := filepath.Join(t.TempDir(), "new")
	err := folder.Make(context.Background(), folder.Out{Dir: empty, Kind: folder.Batch, Quarter: "2026Q2"}, func(f *folder.Folder) error {
		return earlier.KeepArea(context.Background(), f, &earlier.Now{Records: survey.Records{Listed: away}, Centerlines: []stream.Centerline{far}}, host.Host{})
	})
	if err != nil {
		t.Errorf("a new folder: %v", err)
	}
}

var errEnough = errors.New("enough")
