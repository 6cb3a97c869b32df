package batch_test

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"

	"driftreach/internal/batch"
	"driftreach/internal/disk"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/survey"
	"driftreach/internal/testkit/quarter"
)

// onDisk is a place for the finds.
type onDisk string

func (d onDisk) Create(name string) (disk.File, error) {
	return os.Create(filepath.Join(string(d), name))
}
func (d onDisk) Open(name string) (disk.File, error) { return os.Open(filepath.Join(string(d), name)) }

// inBlock is more finds than a block holds: each takes more than its 56 bytes of numbers.
const inBlock = part.BlockBytes / 56

// withMore adds a stand of so many finds that they come to a part in several blocks, and finds alone, more
// than there are parts.
func withMore(in observed.Quarter) observed.Quarter {
	in.Records.Listed = slices.Clone(in.Records.Listed)
	for k := range 2*inBlock + 100 {
		r := in.Records.Listed[0]
		r.ID, r.Position = fmt.Sprintf("x%03d", k), quarter.At(-1500, -2000+float64(k))
		if k >= 2*inBlock {
			r.Position = quarter.At(1500, -2000+100*float64(k))
		}
		in.Records.Listed = append(in.Records.Listed, r)
	}
	return in
}

// TestSplitPartsHoldEveryFind: each part says its number and its split; every find is in one part, under its
// index in the batch, with the first record of its observer; every piece of the zone is in one part.
func TestSplitPartsHoldEveryFind(t *testing.T) {
	_, in, s := quarter.Everything()
	in = withMore(theThird(in))
	all := len(in.Records.Listed)
	for i := range in.Records.Listed {
		in.Records.Listed[i].Notes = survey.Notes{RecordedBy: []string{"A", "B"}[i%2]}.Pack()
	}
	for _, n := range []int{1, 2, 45} {
		kept := slices.Clone(in.Records.Listed)
		files := []mapfile.File{{Role: "points", Name: "points.csv", SHA256: "p"}}
		c, err := batch.NewSplitter(in, batch.EachOf(kept), files, s, part.Split{Parts: n, Version: "1.0"}, onDisk(t.TempDir()))
		if err != nil {
			t.Fatal(err)
		}
		if p := c.Split; p.Parts != n || p.Version != "1.0" || p.Quarter != "2026Q3" || p.Records != all || p.Detected != all-1 || p.Pieces == 0 || len(p.Inputs) != 1 || p.Inputs[0] != (part.Input{Role: "points", Name: "points.csv", SHA256: "p"}) {
			t.Errorf("%+v", p)
		}
		written, lock := make([][]byte, n), sync.Mutex{}
		err = c.Write(t.Context(), func(number int, write func(io.Writer) error) error {
			var b bytes.Buffer
			err := write(&b)
			lock.Lock()
			defer lock.Unlock()
			written[number-1] = b.Bytes()
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		finds, pieces := map[int32]int{}, map[int32]bool{}
		for k, text := range written {
			head, err := part.ReadHead(bytes.NewReader(text))
			if err != nil || head.Kind != part.OfPart || head.Number != k+1 || head.Split.Pieces != c.Split.Pieces || head.Split.Settings != c.Split.Settings {
				t.Errorf("part %d of %d: %v, %s, number %d", k+1, n, err, head.Kind, head.Number)
			}
			p, err := part.ReadPart(bytes.NewReader(text))
			if err != nil || c.Sizes[k] != len(p.At) || !slices.IsSorted(p.At) || !slices.IsSorted(p.PieceAt) || len(p.Pieces) != len(p.PieceAt) {
				t.Errorf("part %d of %d: %v, of %d finds %v, pieces %v", k+1, n, err, c.Sizes[k], p.At, p.PieceAt)
			}
			for i, at := range p.At {
				finds[at]++
				if want := in.Records.Listed[at]; p.Records[i].Position != want.Position || p.Records[i].PatchArea != want.PatchArea || p.By[i] != at%2 {
					t.Errorf("find %d of part %d: %+v by %d", at, k+1, p.Records[i], p.By[i])
				}
			}
			for _, at := range p.PieceAt {
				if pieces[at] || int(at) >= c.Split.Pieces {
					t.Errorf("piece %d is in part %d again, or is none", at, k+1)
				}
				pieces[at] = true
			}
		}
		for i := range in.Records.Listed {
			if times := finds[int32(i)]; (times == 1) != in.Records.Listed[i].Detected || times > 1 {
				t.Errorf("record %d is in %d of %d parts", i, times, n)
			}
		}
		if len(pieces) != c.Split.Pieces {
			t.Errorf("%d pieces of %d are in %d parts", len(pieces), c.Split.Pieces, n)
		}
	}
}
