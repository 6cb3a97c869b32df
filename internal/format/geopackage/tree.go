package geopackage

import (
	"encoding/binary"
	"fmt"
	"io"
)

// pageTree checks the page trees of a database before SQLite opens it. SQLite follows any child page
// that a page names. Pages that are shared, or that lead back to themselves, would let a small file
// hold an endless number of rows, even while it is being opened. In a sound file no page has two
// parents (page format: https://www.sqlite.org/fileformat.html, section 1.6).
type pageTree struct {
	at    io.ReaderAt
	page  int64 // bytes of a page
	count int64 // pages in the file
	seen  map[int64]bool
}

func newPageTree(at io.ReaderAt, size int64) *pageTree {
	var head [100]byte
	_, _ = at.ReadAt(head[:], 0) // checkPages has read it
	page := pageSize(head)
	return &pageTree{at: at, page: page, count: size / page, seen: map[int64]bool{}}
}

// pageSize returns the page size that the file header gives.
func pageSize(head [100]byte) int64 {
	page := int64(binary.BigEndian.Uint16(head[16:]))
	if page == 1 { // 1 means 65536, by the format
		return 1 << 16
	}
	return page
}

// The first byte of a tree page.
const (
	indexInside = 2
	tableInside = 5
	indexLeaf   = 10
	tableLeaf   = 13
)

// deepest is SQLite's own bound on the depth of a tree (BTCURSOR_MAX_DEPTH). A tree of 2^31 pages is
// never that deep.
const deepest = 20

// check walks the tree from its root page. Pages are counted from 1.
func (t *pageTree) check(root int64) error { return t.walk(root, 0) }

func (t *pageTree) walk(number int64, depth int) error {
	switch {
	case number < 1 || number > t.count:
		return fmt.Errorf("it names page %d of %d", number, t.count)
	case t.seen[number]:
		return fmt.Errorf("page %d is in two places", number)
	case depth > deepest:
		return fmt.Errorf("its pages lie more than %d deep", deepest)
	}
	t.seen[number] = true
	begin := int64(0)
	if number == 1 {
		begin = 100 // after the file header
	}
	var head [12]byte
	if _, err := t.at.ReadAt(head[:], (number-1)*t.page+begin); err != nil && err != io.EOF {
		return err
	}
	switch head[0] {
	case tableLeaf, indexLeaf:
		return nil
	case tableInside, indexInside:
	default:
		return fmt.Errorf("page %d is no page of a table", number)
	}
	children, err := t.children(number, begin, int64(binary.BigEndian.Uint16(head[3:])))
	if err != nil {
		return err
	}
	for _, child := range append(children, int64(binary.BigEndian.Uint32(head[8:]))) {
		if err := t.walk(child, depth+1); err != nil {
			return err
		}
	}
	return nil
}

// children returns the child pages that the cells of a page name.
func (t *pageTree) children(number, begin, cells int64) ([]int64, error) {
	page := make([]byte, t.page)
	if _, err := t.at.ReadAt(page, (number-1)*t.page); err != nil && err != io.EOF {
		return nil, err
	}
	if begin+12+2*cells > t.page {
		return nil, fmt.Errorf("page %d has no room for %d cells", number, cells)
	}
	all := make([]int64, 0, cells)
	for i := range cells {
		at := int64(binary.BigEndian.Uint16(page[begin+12+2*i:]))
		if at+4 > t.page {
			return nil, fmt.Errorf("page %d has a cell beyond its end", number)
		}
		all = append(all, int64(binary.BigEndian.Uint32(page[at:])))
	}
	return all, nil
}
