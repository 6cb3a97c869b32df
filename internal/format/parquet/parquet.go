// Package parquet reads GeoParquet, and Parquet files without geometries, row by row.
package parquet

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// file is a Parquet file that is read row by row (Apache Parquet format 2.12), as GeoParquet 1.0 and
// 1.1 use it (https://geoparquet.org). The reader is our own because of its size: 0.4 MB with the
// codecs. Apache Arrow's Go module reads the same files safely, but adds 35 MB.
type file struct {
	*format.Reading
	format.Layout
	at       io.ReaderAt
	size     int64
	meta     *meta
	leaves   []leaf
	texts    []texts  // the columns that are read as text
	geometry shapes   // nil when there are no geometries
	skipped  []string // columns of geometries and of their bounding boxes
	columns  []*column
	places   []int // by column: the number of its leaf

	held         int64 // bytes of pages and dictionaries in memory
	taken, grown int64 // bytes of pages read from the file, and after decompression
}

// texts is a column whose values are read as text.
type texts struct {
	from   *column
	column int // number in the schema
}

// shapes makes the shape of a row from the columns it reads.
type shapes interface {
	shape(s *format.Shape) error
}

// Format is GeoParquet, or Parquet without geometries.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "GeoParquet"} }

// Is implements format. The second signature is that of an encrypted file.
func (Format) Is(_ *format.Reading, d *format.Document) bool {
	return d.Begins("PAR1") || d.Begins("PARE")
}

// Read reads the rows of all row groups. Columns inside lists are left out.
func (Format) Read(r *format.Reading, d *format.Document, take func(*format.Feature) error) error {
	at, size, err := d.All()
	if err != nil {
		return err
	}
	r.Encoding = "UTF-8"
	p := &file{Reading: r, at: at, size: size}
	take = format.Measured(r, size, take)
	for _, step := range []func() error{p.open, p.choose, p.carry, func() error { return p.groups(take) }} {
		if err := step(); err != nil {
			return err
		}
	}
	if r.Charset.Assumed {
		r.ReportFile(format.RuleEncoding, "", "", "the text is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return nil
}

// open reads the footer.
func (p *file) open() error {
	meta, err := readFooter(p.Reading, p.at, p.size)
	if err != nil {
		return err
	}
	p.meta, p.leaves = meta, meta.leaves()
	if len(p.leaves) == 0 {
		return broken(p.Reading, "footer", "the file has no columns, or their description cannot be read")
	}
	if meta.rows > int64(p.Limits.Records) {
		return p.Unusable("", fmt.Sprintf("there are more records than the limit of %d", p.Limits.Records), "split the file, or raise limits.records")
	}
	for i, g := range meta.groups {
		if len(g.chunks) != len(p.leaves) {
			return broken(p.Reading, "footer", fmt.Sprintf("row group %d has %d columns, the file %d", i+1, len(g.chunks), len(p.leaves)))
		}
	}
	return nil
}

// column prepares to read a leaf column.
func (p *file) column(leaf int) *column {
	c := &column{leaf: p.leaves[leaf], file: p}
	p.columns, p.places = append(p.columns, c), append(p.places, leaf)
	return c
}

// carry chooses the columns that are read as text: all except geometries and their bounding boxes,
// columns of bytes, and columns inside lists.
func (p *file) carry() error {
	var lists []string
	for i, leaf := range p.leaves {
		switch {
		case p.isGeometry(leaf):
		case leaf.repetition > 0:
			if !slices.Contains(lists, leaf.path[0]) {
				lists = append(lists, leaf.path[0])
			}
		case leaf.meaning.kind != parquetOpaque:
			if len(p.texts) >= p.Limits.Columns {
				return p.Unusable("", fmt.Sprintf("there are more columns than the limit of %d", p.Limits.Columns), "remove columns, or raise limits.columns")
			}
			p.texts = append(p.texts, texts{p.column(i), p.Schema.Add(leaf.name())})
		}
	}
	for _, name := range lists {
		p.ReportFile(format.RuleLists, name, "", fmt.Sprintf("the column %s holds lists; it was left out", format.Shorten(name)))
	}
	if p.meta.rows > 0 && p.geometry == nil && len(p.texts) == 0 {
		return p.Unusable("", "the file has neither geometries nor columns of texts or numbers", "save the layer as GeoPackage")
	}
	return nil
}

// groups reads the row groups one after the other.
func (p *file) groups(take func(*format.Feature) error) error {
	for i := range p.meta.groups {
		g := &p.meta.groups[i]
		if g.rows == 0 { // the columns of an empty group may have no place in the file
			continue
		}
		for k, c := range p.columns {
			if err := c.begin(&g.chunks[p.places[k]]); err != nil {
				return p.fault(c, err)
			}
		}
		for range g.rows {
			if err := p.row(); err != nil {
				return err
			}
			if err := take(p.Finish()); err != nil {
				return err
			}
		}
	}
	return nil
}

// row reads the next row.
func (p *file) row() error {
	p.Begin()
	if p.geometry != nil {
		if err := p.geometry.shape(&p.Feature.Shape); err != nil {
			return p.fault(nil, err)
		}
	}
	var room [64]byte
	for _, t := range p.texts {
		e, err := t.from.take()
		if err != nil {
			return p.fault(t.from, err)
		}
		if e.definition == t.from.definition {
			text := t.from.text(room[:0], e.value)
			p.Put(t.column, p.Charset.Fix(text))
		}
	}
	if len(p.Layout.Text) > p.Limits.RecordBytes {
		return p.Unusable(format.RowName(p.Feature.Row+1), "the texts of a row are longer than the limit", "shorten them, or raise limits.record_mb")
	}
	return nil
}

// mostHeld is the most memory for pages, one of each column, at a time: 1 GiB. Our choice: a thousand
// times a usual page.
const mostHeld = 1 << 30

// hold counts the memory for a page before it is read; the page replaces the column's last one.
func (p *file) hold(c *column, h pageHead) error {
	need := h.size + h.packed
	if h.kind == pageDictionary {
		need += 32 * min(h.count, h.size/4) // for the decoded values
		c.learned += need
	} else {
		p.held -= c.held
		c.held = need
	}
	p.held += need
	p.taken += h.packed
	p.grown += h.size
	switch {
	case p.held > mostHeld:
		return p.Unusable("column "+format.Shorten(c.name()), "the pages of the columns need more memory than the limit", "save the file again with smaller pages")
	case p.grown > format.FreeExpansion && p.grown/max(1, p.taken) >= int64(p.Limits.Expansion):
		return p.Unusable("column "+format.Shorten(c.name()), fmt.Sprintf("the file unpacks to more than %d times its size", p.Limits.Expansion), "save the file again without compression, or raise limits.expansion")
	}
	return nil
}

// fault turns an error in a column into an unusable file.
func (p *file) fault(c *column, err error) error {
	var unusable *format.UnusableError
	if errors.As(err, &unusable) {
		return err
	}
	place := format.RowName(p.Feature.Row + 1)
	if c != nil {
		place = "column " + format.Shorten(c.name()) + ", " + place
	}
	found := "the column cannot be read: " + format.ShortenTo(err.Error(), 120)
	if strings.Contains(found, "is not read") || strings.Contains(found, "encrypted") {
		return p.Unusable(place, found, "save the file again with Zstandard or Snappy compression and the usual encodings, unencrypted, or as GeoPackage")
	}
	return broken(p.Reading, place, found)
}
