package part

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/paulmach/orb"
	"pgregory.net/rapid"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/flow"
	"driftreach/geo/shape"
	"driftreach/internal/aquatic"
	"driftreach/internal/disk"
	"driftreach/internal/margin"
	"driftreach/internal/spill"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// middles are the places around which regions are drawn.
var middles = map[string]orb.Point{
	"equator": {10, 0}, "south": {-40, -33}, "north": {25, 70}, "on the antimeridian": {180, 10},
}

var notes = []survey.PackedNotes{"", survey.Notes{Remarks: "of no figure"}.Pack(), survey.Notes{RecordedBy: "A"}.Pack(), survey.Notes{RecordedBy: "B"}.Pack()}

// region draws records and streams around a middle: chains of points about one join distance apart,
// clusters, single points, drawn patches, and brooks of two names with a lake.
func region(t *rapid.T) ([]survey.Record, *aquatic.Water, stand.Settings) {
	middle := middles[rapid.SampledFrom([]string{"equator", "south", "north", "on the antimeridian"}).Draw(t, "place")]
	frame := earth.NewFrame(middle)
	at := func(x, y float64) orb.Point {
		return frame.Unproject(orb.MultiPolygon{{{{x, y}, {x + 1, y}, {x, y + 1}, {x, y}}}})[0][0][0]
	}
	s := stand.DefaultSettings()
	s.MinPoints = rapid.IntRange(1, 4).Draw(t, "min points")
	step := rapid.SampledFrom([]float64{5, 29.9999, 30, 30.0001, 61}).Draw(t, "step")
	records := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) survey.Record {
		x, y := step*float64(rapid.IntRange(0, 30).Draw(t, "x")), step*float64(rapid.IntRange(0, 6).Draw(t, "y"))
		r := survey.Record{
			Position: at(x, y), Detected: rapid.IntRange(0, 9).Draw(t, "detected") > 0,
			PatchArea: geo.SquareMeters(rapid.SampledFrom([]float64{0, 4, 900}).Draw(t, "area")),
			Cover:     rapid.SampledFrom([]float64{math.NaN(), 0, 35, 100}).Draw(t, "cover"), StemHeight: geo.Meters(math.NaN()),
			Begin: survey.Day(rapid.IntRange(0, 3).Draw(t, "day")), Notes: rapid.SampledFrom(notes).Draw(t, "notes"),
			Uncertainty: geo.Meters(rapid.SampledFrom([]float64{0, 3, 40}).Draw(t, "uncertainty")),
			Status:      rapid.SampledFrom(survey.Statuses()).Draw(t, "status"),
		}
		r.End = r.Begin
		if rapid.IntRange(0, 5).Draw(t, "drawn") == 0 {
			r.PatchArea, r.Outline = 0, frame.Unproject(orb.MultiPolygon{{{{x - 8, y - 8}, {x + 8, y - 8}, {x + 8, y + 9}, {x - 8, y - 8}}}})
		}
		return r
	}), 1, 60).Draw(t, "records")
	for i := range records {
		records[i].ID = fmt.Sprintf("r%03d", i)
	}
	var lines []stream.Centerline
	for i := range rapid.IntRange(1, 6).Draw(t, "brooks") {
		x := 150 * float64(i)
		lines = append(lines, stream.Centerline{
			ID: fmt.Sprint("s", i), Name: []string{"Long Brook", "Far Brook"}[i%2], Path: orb.LineString{at(x, 0), at(x+40, 900), at(x, 2500)},
		})
	}
	lake := stream.Surface{Name: "Long Brook", Areas: frame.Unproject(orb.MultiPolygon{{{{-50, 400}, {90, 400}, {90, 700}, {-50, 700}, {-50, 400}}}})}
	net, _ := stream.Connect(lines, nil, []stream.Surface{lake}, flow.Options{Snap: 1})
	water := aquatic.NewWater(net, aquatic.DefaultSettings())
	return records, water, s
}

var quarter = survey.Quarter{Year: 2026, Number: 3}

// TestPartsMakeTheWhole: any region is cut into any number of parts, and each part is computed
// separately from its file. The stands and the zone equal those of the whole region computed at
// once, to the last bit.
func TestPartsMakeTheWhole(t *testing.T) {
	at, draws := place(t.TempDir()), 0
	rapid.Check(t, func(t *rapid.T) {
		records, water, rules := region(t)
		pieces, of := water.Pieces()
		draws++
		shelf := spill.NewShelf(at, fmt.Sprint(draws))
		if rapid.Bool().Draw(t, "memory") {
			shelf = spill.NewShelf(nil, "")
		}
		want, wantOf, err := stand.Map(records, quarter, rules, 1)
		if err != nil {
			t.Fatal(err)
		}
		split := Split{Parts: rapid.IntRange(1, 12).Draw(t, "parts"), Records: len(records), Pieces: len(pieces)}
		cuts := dealt(records, pieces, of, rules, split.Parts)
		whole := newWhole(&split, shelf)
		for _, cut := range cuts {
			split.Detected += len(cut.Records)
			result := throughFiles(t, &cut, Head{Number: 1, Split: split})
			if err := whole.Add(&result); err != nil {
				t.Fatal(err)
			}
		}
		if !whole.Complete(&split) {
			t.Fatal("something is missing")
		}
		compareMargins(t, want, whole, records, rules)
		got, gotOf := stand.Number(whole.Stands, len(records), quarter)
		if diff := cmp.Diff(want, got, cmpopts.EquateNaNs(), cmp.Comparer(func(a, b geo.Meters) bool { return a == b || a != a && b != b }), cmpopts.EquateEmpty(), cmp.Transformer("vertices", stand.Outline.Polygons)) + cmp.Diff(wantOf, gotOf); diff != "" {
			t.Fatalf("stands of %d parts: (-whole +parts)\n%s", split.Parts, diff)
		}
		zone, err := water.Join(whole.Drawn(), 2)
		if diff := cmp.Diff(water.Dissolve(1), zone, cmp.Transformer("vertices", shape.OnSteps.Polygons)); diff != "" || err != nil {
			t.Fatalf("zone of %d parts: (-whole +parts)\n%s, %v", split.Parts, diff, err)
		}
	})
}

// place is a folder for temporary files.
type place string

func (d place) Create(name string) (disk.File, error) {
	return disk.System().Create(filepath.Join(string(d), name))
}

func (d place) Open(name string) (disk.File, error) {
	return disk.System().Open(filepath.Join(string(d), name))
}

// compareMargins holds the errors of the acres of the parts' stands to those of all stands at once.
func compareMargins(t *rapid.T, want []stand.Stand, whole *Whole, records []survey.Record, rules stand.Settings) {
	once := margin.Survey{Records: records, Rules: rules, Settings: margin.DefaultSettings()}
	once.Observers = margin.NewCauses().Of(survey.Records{Listed: records}, func(int) survey.Quarter { return quarter })
	for i := range want {
		at := slices.IndexFunc(whole.Stands, func(s stand.Stand) bool { return slices.Equal(s.Members, want[i].Members) })
		if at < 0 {
			t.Fatalf("stand %d is not in the parts", i)
		}
		got, atOnce := whole.Margins[at], once.Of(&want[i])
		got.Named(func(record int32) int32 { return once.Observers[record] })
		if diff := cmp.Diff(atOnce, got, cmp.Exporter(func(reflect.Type) bool { return true }), cmpopts.EquateEmpty()); diff != "" {
			t.Fatalf("acreage error of stand %d: (-whole +parts)\n%s", i, diff)
		}
	}
}

// dealt cuts a region into parts.
func dealt(records []survey.Record, pieces []aquatic.Piece, of []aquatic.PiecesOf, rules stand.Settings, n int) []Part {
	groups, cells := NewGroups(rules.JoinDistance), make([]int32, len(records))
	for i := range records {
		if records[i].Detected {
			cells[i] = groups.Add(&records[i])
		}
	}
	deal, parts := groups.Deal(pieces, of, n), make([]Part, n)
	for i := range parts {
		parts[i].Rules = Rules{rules, margin.DefaultSettings()}
		deal.GivePieces(&parts[i], i, pieces)
	}
	first := map[string]int32{}
	for i, r := range records {
		by := r.RecordedBy()
		if _, met := first[by]; !met {
			first[by] = int32(i)
		}
		if r.Detected {
			p := &parts[deal.Part(cells[i])]
			Strip(&r)
			p.At, p.Records, p.By = append(p.At, int32(i)), append(p.Records, r), append(p.By, first[by])
		}
	}
	return parts
}

// throughFiles computes a part as a worker does, from one file to another.
func throughFiles(t *rapid.T, cut *Part, h Head) Result {
	var file, again bytes.Buffer
	h.Kind = OfPart
	if err := cut.write(&file, h); err != nil {
		t.Fatal(err)
	}
	read, err := ReadPart(bytes.NewReader(file.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	made, err := read.Make(t.Context(), 2)
	if err != nil {
		t.Fatal(err)
	}
	file.Reset()
	h.Kind = OfResult
	if err := made.Write(&file, h); err != nil {
		t.Fatal(err)
	}
	twice, err := read.Make(t.Context(), 1)
	if err == nil {
		err = twice.Write(&again, h)
	}
	if err != nil || !bytes.Equal(file.Bytes(), again.Bytes()) {
		t.Fatalf("made twice it has other bytes: %v", err)
	}
	got, err := ReadHead(bytes.NewReader(file.Bytes()))
	if err != nil || got.Number != h.Number || got.Kind != OfResult || got.Split.ID() != h.Split.ID() {
		t.Fatalf("%+v, %v", got, err)
	}
	result, err := ReadResult(bytes.NewReader(file.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	return result
}

// TestDealIsEven: by hand. Twelve separate records and a cluster of four make four parts of four,
// and no group is cut.
func TestDealIsEven(t *testing.T) {
	var records []survey.Record
	for i := range 16 {
		lon := float64(i)
		if i >= 12 {
			lon = 100 // the cluster
		}
		records = append(records, survey.Record{Position: orb.Point{lon, 5}, Detected: true})
	}
	records = append(records, survey.Record{Position: orb.Point{100, 5}}) // nothing detected
	parts := dealt(records, nil, nil, stand.DefaultSettings(), 4)
	for i, p := range parts {
		if len(p.At) != 4 {
			t.Errorf("part %d has the records %v", i, p.At)
		}
	}
	if at := parts[0].At; !slices.Equal(at, []int32{12, 13, 14, 15}) {
		t.Errorf("the cluster is in a part with %v", at)
	}
}

// TestEveryByteCounts: a file with any byte changed, or cut off anywhere, is refused.
func TestEveryByteCounts(t *testing.T) {
	r := Result{Stands: []stand.Stand{{Members: []int32{0}}}, Margins: make([]margin.Stand, 1), PieceAt: []int32{0}, Zone: []Drawn{shape.AppendPolygons(nil, orb.MultiPolygon{{{{1, 2}, {3, 4}, {5, 6}, {1, 2}}}})}}
	var file bytes.Buffer
	if err := r.Write(&file, Head{Kind: OfResult, Number: 1}); err != nil {
		t.Fatal(err)
	}
	whole := file.Bytes()
	for i := range whole {
		wrong := bytes.Clone(whole)
		wrong[i] ^= 0x20
		if _, err := ReadResult(bytes.NewReader(wrong)); err == nil {
			t.Fatalf("byte %d changed", i)
		}
		if _, err := ReadResult(bytes.NewReader(whole[:i])); err == nil {
			t.Fatalf("cut off after %d bytes", i)
		}
	}
	if _, err := ReadResult(bytes.NewReader(whole)); err != nil {
		t.Fatal(err)
	}
}

// by returns an error of acres of the observer of one record: of a stand of one measured patch.
func by(record int32) margin.Form {
	records := []survey.Record{{Position: orb.Point{10, 5}, PatchArea: 100, Detected: true}}
	s := margin.Survey{Records: records, Rules: stand.DefaultSettings(), Settings: margin.DefaultSettings(), Observers: margin.ByRecord([]int32{record})}
	st := stand.Build(records, []int32{0}, s.Rules)
	return s.Of(&st).Gross
}

// TestWholeRefuses: results that cannot belong to the whole are rejected, by hand.
func TestWholeRefuses(t *testing.T) {
	split := Split{Records: 2, Detected: 2, Pieces: 1}
	of := func(members ...int32) Result {
		return Result{Stands: []stand.Stand{{Members: members}}, Margins: make([]margin.Stand, 1)}
	}
	foreign := of(0)
	foreign.Margins[0] = margin.Stand{Gross: by(2)}
	zone := Result{PieceAt: []int32{0}, Zone: make([]Drawn, 1)}
	beyond := zone
	beyond.Bodies = []Body{{Run: Run{0, 2}}}
	for name, c := range map[string][]Result{
		"a record in two stands": {of(0), of(0)}, "a record beyond": {of(2)}, "a record before": {of(-1)},
		"a piece twice": {zone, zone}, "a piece beyond": {{PieceAt: []int32{1}, Zone: make([]Drawn, 1)}},
		"a piece without a place":  {{Zone: make([]Drawn, 1)}},
		"a stand without a margin": {{Stands: []stand.Stand{{Members: []int32{0}}}}},
		"a margin of no record":    {foreign},
		"a water body beyond":      {beyond},
	} {
		w := newWhole(&split, spill.NewShelf(nil, ""))
		var err error
		for i := range c {
			err = w.Add(&c[i])
		}
		if err == nil {
			t.Error(name)
		}
	}
	w := newWhole(&split, spill.NewShelf(nil, ""))
	first, second := of(0), of(1)
	for _, r := range []*Result{&first, &second} {
		if w.Complete(&split) {
			t.Error("complete too early")
		}
		if err := w.Add(r); err != nil {
			t.Error(err)
		}
	}
	if w.Complete(&split) {
		t.Error("complete without the zone")
	}
	if err := w.Add(&zone); err != nil || !w.Complete(&split) {
		t.Error("not complete", err)
	}
}

// TestDiffers: the first difference that a user can change is named.
func TestDiffers(t *testing.T) {
	base := func() Split {
		return Split{Version: "1", Machine: "amd64", Quarter: "2026Q3", Settings: "{}", Parts: 2, Records: 3, Command: []string{"--kml=true"}, Inputs: []Input{{"points", "p.csv", "aa"}, {"units", "u.geojson", "bb"}}}
	}
	for want, change := range map[string]func(*Split){
		"":                               func(*Split) {},
		"driftreach 2, and":              func(p *Split) { p.Version, p.Quarter = "2", "2026Q4" },
		"made on arm64, and this is amd": func(p *Split) { p.Machine = "arm64" },
		"it is of 2026Q4, not of 2026Q3": func(p *Split) { p.Quarter = "2026Q4" },
		"p.csv (points) is another file": func(p *Split) { p.Inputs[0].SHA256 = "cc" },
		"without u.geojson (units)":      func(p *Split) { p.Inputs = p.Inputs[:1] },
		"with w.csv (works) too":         func(p *Split) { p.Inputs = append(p.Inputs, Input{"works", "w.csv", "dd"}) },
		"with q.csv (points) too":        func(p *Split) { p.Inputs = append(p.Inputs, Input{"points", "q.csv", "dd"}) },
		"with u.geojson (works) too":     func(p *Split) { p.Inputs = append(p.Inputs, Input{"works", "u.geojson", "bb"}) },
		"parts hold other things":        func(p *Split) { p.Format = 1 },
		"other settings":                 func(p *Split) { p.Settings = "{1}" },
		"one of 3 parts, not of 2":       func(p *Split) { p.Parts = 3 },
		"other flags":                    func(p *Split) { p.Command = nil },
		"not what it was cut from":       func(p *Split) { p.Records = 4 },
	} {
		here, other := base(), base()
		change(&other)
		if got := here.Differs(&other); (want == "") != (got == "") || !strings.Contains(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// TestFindResultsTakesTheMost: among results of two plans, those of the split with fewer results are
// foreign, wherever they are; all faults are reported at once.
func TestFindResultsTakesTheMost(t *testing.T) {
	dir := t.TempDir()
	put := func(name string, h Head) {
		var file bytes.Buffer
		if err := new(Result).Write(&file, h); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(filepath.Join(dir, name), 0o777); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name, ResultFile), file.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	ours, foreign := Split{Quarter: "2026Q3", Parts: 6}, Split{Quarter: "2026Q2", Parts: 6}
	put("0001", Head{OfResult, 1, foreign})
	put("0002", Head{OfResult, 2, ours})
	put("0003", Head{OfResult, 3, ours})
	put("0006", Head{OfResult, 6, ours})
	put("0005", Head{OfResult, 5, foreign})
	if err := os.Mkdir(filepath.Join(dir, ".0004.driftreach-part"), 0o777); err != nil {
		t.Fatal(err)
	}
	_, err := FindResults(disk.System(), dir)
	want := "part 0001: it is of another split: it is of 2026Q2, not of 2026Q3; part 0004: it is missing; part 0005: it is of another split: it is of 2026Q2, not of 2026Q3; nothing was written"
	if err == nil || !strings.HasSuffix(err.Error(), want) {
		t.Errorf("%v, want %s", err, want)
	}
	for _, name := range []string{"0001", "0005"} {
		if err := os.RemoveAll(filepath.Join(dir, name)); err != nil {
			t.Fatal(err)
		}
	}
	put("0001", Head{OfResult, 1, ours})
	put("0004", Head{OfResult, 4, ours})
	put("0005", Head{OfResult, 5, ours})
	if found, err := FindResults(disk.System(), dir); err != nil || found.Split.ID() != ours.ID() {
		t.Error(found, err)
	}
	put("0007", Head{OfResult, 7, ours})
	if _, err := FindResults(disk.System(), dir); err == nil || !strings.Contains(err.Error(), "part 0007: there are 6 parts") {
		t.Error(err)
	}
}

// write writes the part with its head.
func (p *Part) write(to io.Writer, h Head) error {
	return p.WriteBlocks(to, h, func(yield func(Block) error) error {
		var b Block
		for i := range p.At {
			if b = b.Add(AppendEntry(nil, int(p.At[i]), int(p.By[i]), &p.Records[i])); i%7 > 0 && i < len(p.At)-1 {
				continue
			}
			if err := yield(b); err != nil {
				return err
			}
			b = nil
		}
		return nil
	})
}

// TestCellsAround: a cube in a grid has 26 others around it, each a step away at most in every direction.
func TestCellsAround(t *testing.T) {
	seen := map[cell]bool{}
	eachBeside(cell{7, -2, 0}, func(at cell) {
		if dx, dy, dz := at[0]-7, at[1]+2, at[2]; dx*dx > 1 || dy*dy > 1 || dz*dz > 1 || dx == 0 && dy == 0 && dz == 0 {
			t.Errorf("%v is not around", at)
		}
		seen[at] = true
	})
	if len(seen) != 26 {
		t.Errorf("%d cells, want 26", len(seen))
	}
}
