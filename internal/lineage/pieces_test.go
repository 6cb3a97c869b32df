package lineage

import (
	"math/rand/v2"
	"path/filepath"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/paulmach/orb"

	"driftreach/geo/shape"
	"driftreach/internal/disk"
	"driftreach/internal/spill"
	"driftreach/internal/survey"
)

// place is a folder for the file of a shelf.
type place string

func (p place) Create(name string) (disk.File, error) {
	return disk.System().Create(filepath.Join(string(p), name))
}

func (p place) Open(name string) (disk.File, error) {
	return disk.System().Open(filepath.Join(string(p), name))
}

// TestGroundByStands: the ground is the same to the last bit whatever records are said to be of one
// stand, for any number of workers, and on a shelf on disk. Truth: the ground with each record in a group
// of its own, which TestGroundAboutRecords holds to circles.
func TestGroundByStands(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 7))
	var plants []plant
	for range 60 { // crowds of one to ten, some near each other
		x, y := rng.Float64()*4000, rng.Float64()*4000
		for range 1 + rng.IntN(10) {
			plants = append(plants, plant{x + 60*rng.Float64(), y + 60*rng.Float64(), 1 + 300*rng.Float64()})
		}
	}
	all, s := records(plants...), DefaultSettings()
	want := SurveyedNow(Now{Records: all}, Evidence{}, s, 1)
	if len(want) < 20 {
		t.Fatalf("%d pieces: too few to be told apart", len(want))
	}
	if err := shape.Valid(want); err != nil {
		t.Fatal(err)
	}
	for name, stand := range map[string]func(i int) int32{
		"near": func(i int) int32 { return int32(i / 5) }, "far apart": func(i int) int32 { return int32(i % 7) },
		"one": func(int) int32 { return 3 }, "some": func(i int) int32 { return int32(i%3) - 1 },
	} {
		for shelfName, shelf := range map[string]*spill.Shelf{"none": nil, "memory": spill.NewShelf(nil, ""), "disk": spill.NewShelf(place(t.TempDir()), "shelf")} {
			g := Gathering{Settings: s, Workers: 2, Shelf: shelf, Records: func(yield func(*survey.Record, int32) bool) {
				for i := range all {
					if !yield(&all[i], stand(i)) {
						return
					}
				}
			}}
			got := g.Ground()
			if far := shelfName == "disk"; (got.far != nil) != far {
				t.Errorf("%s, %s: on disk: %v", name, shelfName, !far)
			}
			if diff := cmp.Diff(want, got.All()); diff != "" {
				t.Errorf("%s, %s: %s", name, shelfName, diff)
			}
			if k := got.Len() / 2; got.Len() != len(want) || !cmp.Equal(want[k:k+1], got.At(k)) {
				t.Errorf("%s, %s: piece %d of %d is another", name, shelfName, k, got.Len())
			}
			if shelf != nil {
				if err := shelf.Close(); err != nil {
					t.Error(err)
				}
			}
		}
	}
}

// TestPiecesOnDisk: pieces come back as they were put, and in normal form where they were collected in
// any order, also two that start at one vertex.
func TestPiecesOnDisk(t *testing.T) {
	frame := func(x, y, side float64) orb.MultiPolygon {
		return orb.MultiPolygon{{{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}, {x, y}}}}
	}
	parts := []orb.MultiPolygon{frame(5, 5, 1), frame(0, 0, 2), {{{{5, 5}, {5.5, 4}, {6, 4.5}, {5, 5}}}}, frame(-3, 9, 1)}
	want := shape.Gather(slices.Clone(parts))
	shelf := spill.NewShelf(place(t.TempDir()), "shelf")
	c := newCollector(len(parts), shelf)
	for k := range parts {
		c.add(k, parts[len(parts)-1-k])
	}
	got := c.pieces()
	if diff := cmp.Diff(want, got.All()); diff != "" {
		t.Errorf("collected: %s", diff)
	}
	if diff := cmp.Diff(want, PiecesOf(want, shelf).All()); diff != "" {
		t.Errorf("put: %s", diff)
	}
	if none := PiecesOf(nil, shelf); none.Len() != 0 || none.All() != nil && len(none.All()) != 0 {
		t.Errorf("no ground has %d pieces", none.Len())
	}
	if err := shelf.Close(); err != nil {
		t.Error(err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a disk that does not take the pieces is not told")
		}
	}()
	PiecesOf(want, spill.NewShelf(place("/none/of/this"), "shelf"))
}
