package geopackage

import (
	"bytes"
	"encoding/binary"
	"testing"
)

// database is a database of pages of 512 bytes: each page is the type of its tree, the pages its cells
// name, and the last child (SQLite's file format, 1.6). The first page begins after 100 bytes.
func database(pages ...[]int) *bytes.Reader {
	all := make([]byte, 512*len(pages))
	binary.BigEndian.PutUint16(all[16:], 512)
	for i, page := range pages {
		b := all[512*i : 512*(i+1)]
		begin := 0
		if i == 0 {
			begin = 100
		}
		b[begin] = byte(page[0])
		if len(page) == 1 {
			continue
		}
		cells := page[1 : len(page)-1]
		binary.BigEndian.PutUint16(b[begin+3:], uint16(len(cells)))
		binary.BigEndian.PutUint32(b[begin+8:], uint32(page[len(page)-1]))
		for k, child := range cells {
			at := 512 - 4*(k+1)
			binary.BigEndian.PutUint16(b[begin+12+2*k:], uint16(at))
			binary.BigEndian.PutUint32(b[at:], uint32(child))
		}
	}
	return bytes.NewReader(all)
}

// TestPageTrees: trees of tables (5 and 13) and of indexes (2 and 10); a page that two name, one that is
// not there or is none, and a tree deeper than any that SQLite makes.
func TestPageTrees(t *testing.T) {
	deep := func(n int) [][]int {
		var pages [][]int
		for i := range n {
			pages = append(pages, []int{5, i + 2})
		}
		return append(pages, []int{13})
	}
	for _, c := range []struct {
		name, want string
		pages      [][]int
		root       int64
	}{
		{"a leaf", "", [][]int{{13}}, 1}, {"a leaf of an index", "", [][]int{{10}}, 1},
		{"a tree", "", [][]int{{5, 2, 3, 4}, {13}, {13}, {13}}, 1}, {"a tree of an index", "", [][]int{{2, 2, 3}, {10}, {10}}, 1}, {"another root", "", [][]int{{13}, {5, 3}, {13}}, 2},
		{"no page", "it names page 0 of 1", [][]int{{13}}, 0}, {"beyond the file", "it names page 2 of 1", [][]int{{13}}, 2}, {"a child beyond it", "it names page 3 of 2", [][]int{{5, 2, 3}, {13}}, 1}, {"a child of nothing", "it names page 0 of 2", [][]int{{5, 2, 0}, {13}}, 1},
		{"twice", "page 2 is in two places", [][]int{{5, 2, 2}, {13}}, 1}, {"round", "page 1 is in two places", [][]int{{5, 1}}, 1},
		{"no type", "page 2 is no page of a table", [][]int{{5, 2}, {0}}, 1}, {"another type", "page 1 is no page of a table", [][]int{{4}}, 1},
		{"as deep as can be", "", deep(20), 1}, {"too deep", "its pages lie more than 20 deep", deep(21), 1},
	} {
		err := newPageTree(database(c.pages...), int64(512*len(c.pages))).check(c.root)
		if got := errorText(err); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	// the cells of a page have room up to its end, and their four bytes too
	full := func(cells, at int) string {
		b := make([]byte, 512)
		binary.BigEndian.PutUint16(b[16:], 512)
		b[100] = 5
		binary.BigEndian.PutUint16(b[103:], uint16(cells))
		for k := range cells {
			binary.BigEndian.PutUint16(b[min(112+2*k, 510):], uint16(at))
		}
		return errorText(newPageTree(bytes.NewReader(b), 512).check(1))
	}
	for _, c := range []struct {
		cells, at int
		want      string
	}{
		{200, 20, "it names page 0 of 1"}, {201, 20, "page 1 has no room for 201 cells"}, {1, 508, "it names page 0 of 1"}, {1, 509, "page 1 has a cell beyond its end"},
	} {
		if got := full(c.cells, c.at); got != c.want {
			t.Errorf("%d cells at %d: %q, want %q", c.cells, c.at, got, c.want)
		}
	}
	// the page size is a power of two up to 32768, or 1 for 65536 (1.3.2)
	for stored, want := range map[uint16]int64{512: 512, 4096: 4096, 32768: 32768, 1: 65536} {
		var head [100]byte
		binary.BigEndian.PutUint16(head[16:], stored)
		if got := pageSize(head); got != want {
			t.Errorf("page size %d: %d, want %d", stored, got, want)
		}
	}
}

func errorText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
