package survey

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
)

// inMemory is a packed text in memory.
type inMemory []byte

func (m inMemory) Bytes() []byte { return m }

func keepAll(t interface {
	Helper()
	Fatal(...any)
}, records []Record) *Kept {
	t.Helper()
	k := NewKept(func(b []byte) (Text, error) { return inMemory(append([]byte(nil), b...)), nil })
	for i := range records {
		if err := k.Add(&records[i]); err != nil {
			t.Fatal(err)
		}
	}
	if err := k.End(); err != nil {
		t.Fatal(err)
	}
	return k
}

// all returns the kept records.
func (k *Kept) all() []Record {
	out := make([]Record, k.Len())
	for i := range out {
		out[i] = *k.At(i)
	}
	return out
}

// someRecords returns n records of two files, every third with notes and every fifth with an outline.
func someRecords(n int) []Record {
	all := make([]Record, n)
	for i := range all {
		r := &all[i]
		*r = Record{
			ID: fmt.Sprintf("p%06d", i), File: []string{"a.csv", "b.csv"}[i%2], Row: i + 1, Position: orb.Point{float64(i), -1},
			Uncertainty: geo.Meters(i) / 7, Cover: float64(i % 100), Detected: i%4 > 0, Status: Status(i % 4),
		}
		if i%3 == 0 {
			r.Notes = Notes{RecordedBy: "somebody", Extra: []string{"", fmt.Sprint(i)}}.Pack()
		}
		if i%5 == 0 {
			r.Outline = orb.MultiPolygon{{{{0, 0}, {float64(i), 0}, {0, 1}, {0, 0}}}}
		}
	}
	return all
}

// Records come back as they were, in any order, whether the last block is full or not: one record
// fewer than blocks of 32 hold, as many, and one more.
func TestKeptComeBack(t *testing.T) {
	for _, n := range []int{0, 1, 31, 32, 33, 3000} {
		records := someRecords(n)
		k := keepAll(t, records)
		finds := 0
		for i := range records {
			if records[i].Detected {
				finds++
			}
		}
		if k.Len() != n || k.Detected() != finds {
			t.Errorf("%d records with %d finds: %d, %d", n, finds, k.Len(), k.Detected())
		}
		for at := range records {
			i := at * 7919 % n // a prime: all of them, far apart
			if got := k.At(i); !reflect.DeepEqual(*got, records[i]) {
				t.Fatalf("%d of %d: %+v, want %+v", i, n, *got, records[i])
			}
			if got := k.Glance(i).Uncertainty; got != records[i].Uncertainty {
				t.Fatalf("%d of %d is uncertain by %v, want %v", i, n, got, records[i].Uncertainty)
			}
		}
		if got := k.Of("a.csv") + k.Of("b.csv"); got != n || k.Of("b.csv") != n/2 || k.Of("c.csv") != 0 || k.Dated() {
			t.Errorf("%d of %d by file, %d in b.csv; dated: %v", got, n, k.Of("b.csv"), k.Dated())
		}
		if n < 33 {
			continue
		}
		some := k.Some([]int32{32, 0, int32(n - 1)})
		want := []Record{records[32], records[0], records[n-1]}
		for i := range want {
			want[i].ID, want[i].File, want[i].Notes = "", "", ""
		}
		if !reflect.DeepEqual(some, want) {
			t.Errorf("some of %d: %+v, want %+v", n, some, want)
		}
	}
}

// What is gone is gone, the others follow each other as before, and numbers are counted again; what it was
// taken from stays.
func TestKeptWithout(t *testing.T) {
	records := someRecords(100)
	for i := range records {
		if i%50 == 7 {
			records[i].Begin, records[i].End = 3, 4
		}
	}
	k := keepAll(t, records)
	for name, goes := range map[string]func(i int) bool{
		"none": func(int) bool { return false }, "all": func(int) bool { return true }, "the dated": func(i int) bool { return i%50 == 7 },
		"the first": func(i int) bool { return i == 0 }, "most": func(i int) bool { return i%9 > 0 }, "a file": func(i int) bool { return i%2 == 0 },
	} {
		gone, want := make([]bool, len(records)), keepAll(t, nil)
		for i := range records {
			if gone[i] = goes(i); gone[i] {
				continue
			}
			if err := want.Add(&records[i]); err != nil {
				t.Fatal(err)
			}
		}
		if err := want.End(); err != nil {
			t.Fatal(err)
		}
		got, err := k.Without(gone)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got.all(), want.all()) || got.Detected() != want.Detected() || got.Dated() != want.Dated() || got.Of("a.csv") != want.Of("a.csv") || got.Of("b.csv") != want.Of("b.csv") {
			t.Errorf("%s: %d records, want %d; %d finds, want %d; dated %v, %v", name, got.Len(), want.Len(), got.Detected(), want.Detected(), got.Dated(), want.Dated())
		}
		for i := range got.Len() {
			r := got.At(i)
			if g := got.Glance(i); g != (Glance{r.Position, r.Uncertainty, r.Begin, r.End, r.Detected}) {
				t.Errorf("%s: at a glance %+v, want %+v", name, g, r)
			}
		}
	}
	if !reflect.DeepEqual(k.all(), records) {
		t.Error("the records that some were taken from are others now")
	}
	full := errors.New("no space left on device")
	k.put = func([]byte) (Text, error) { return nil, full }
	if _, err := k.Without(make([]bool, len(records))); !errors.Is(err, full) {
		t.Errorf("a full disk: %v", err)
	}
}

// Several readers at once get the same.
func TestKeptForSeveral(t *testing.T) {
	records := someRecords(2000)
	k := keepAll(t, records)
	var all sync.WaitGroup
	for from := range 4 {
		all.Add(1)
		go func() {
			defer all.Done()
			for at := range records {
				i := (at*(from+1) + from*512) % len(records)
				if got := k.At(i); got.ID != records[i].ID {
					t.Errorf("%d: %s", i, got.ID)
					return
				}
			}
		}()
	}
	all.Wait()
}

// A disk that fails is told of, and bytes that are cut off are a panic with an error.
func TestKeptOnABadDisk(t *testing.T) {
	full := errors.New("no space left on device")
	k := NewKept(func([]byte) (Text, error) { return nil, full })
	var err error
	for range 32 {
		err = k.Add(&Record{Cover: math.NaN()})
	}
	if !errors.Is(err, full) {
		t.Errorf("a full block: %v", err)
	}
	k = NewKept(func(b []byte) (Text, error) {
		return inMemory(append(append([]byte(nil), b[:4]...), make([]byte, len(b)-4)...)), nil
	})
	if err := k.Add(&Record{ID: "a", Notes: Notes{Parcel: "p"}.Pack()}); err != nil {
		t.Fatal(err)
	}
	if err := k.End(); err != nil {
		t.Fatal(err)
	}
	if got := k.At(0); got.ID != "" || got.Notes != "" { // zeros are a blank record
		t.Errorf("zeros: %+v", got)
	}
	k = NewKept(func(b []byte) (Text, error) { return inMemory{2, 0, 0, 0, 0, 0}, nil })
	_ = k.Add(&Record{})
	_ = k.End()
	defer func() {
		if err, is := recover().(error); !is || !errors.Is(err, errShort) {
			t.Errorf("cut off: %v", err)
		}
	}()
	k.At(0)
	t.Error("cut off, and nothing was said")
}
