// Package detect lists the formats and finds which one a document is in.
package detect

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"

	"driftreach/internal/format"
	"driftreach/internal/format/archive"
	"driftreach/internal/format/csv"
	"driftreach/internal/format/geojson"
	"driftreach/internal/format/geopackage"
	"driftreach/internal/format/gpx"
	"driftreach/internal/format/kml"
	"driftreach/internal/format/parquet"
	"driftreach/internal/format/shapefile"
	"driftreach/internal/format/xlsx"
	"driftreach/internal/format/xmldoc"
)

// Formats are all formats, in the order in which they are tried. Formats with weaker signatures come
// later, and text comes last.
var Formats = []format.Format{
	geopackage.Format{}, parquet.Format{}, shapefile.Format{}, xlsx.Format{}, archive.Format{},
	geojson.Format{}, gpx.Format{}, kml.Format{}, csv.Format{},
}

// Read reads a source from its first byte.
func Read(r *format.Reading, in *format.Input, take func(*format.Feature) error) error {
	d := &format.Document{Beside: in.Source.Beside}
	if d.Beside == nil {
		d.Beside = func(string) (io.ReadCloser, error) { return nil, fs.ErrNotExist }
	}
	d.Whole = func() (io.ReaderAt, int64, error) {
		at, seeks := in.Reader.(io.ReaderAt)
		if seeks {
			// read to the end for the hash; from now on the file is read at given positions
			_, err := io.Copy(io.Discard, d.Head)
			return at, in.Bytes, err
		}
		all, err := io.ReadAll(io.LimitReader(d.Head, r.Limits.MemberBytes+1))
		if err == nil && int64(len(all)) > r.Limits.MemberBytes {
			err = r.Unusable("", "the file is larger than the limit for files that are held in memory", "split the file, or raise limits.member_mb")
		}
		return bytes.NewReader(all), int64(len(all)), err
	}
	return readDocument(r, d, in, take)
}

// readDocument finds the format and passes every feature to take.
func readDocument(r *format.Reading, d *format.Document, text io.Reader, take func(*format.Feature) error) error {
	d.Inside = func(member *format.Document, text io.Reader, take func(*format.Feature) error) error {
		return readDocument(r, member, text, take)
	}
	if err := d.Open(text); err != nil {
		return err
	}
	if len(d.First) < format.HeadBytes && len(bytes.TrimSpace(d.First)) == 0 {
		return r.Unusable("", "the file is empty", "check that the right file was named")
	}
	r.Text = nil
	for _, f := range Formats {
		if f.Traits().Text && r.Text == nil {
			if err := openText(r, d); err != nil {
				return err
			}
		}
		if f.Is(r, d) {
			r.Traits = f.Traits()
			err := f.Read(r, d, take)
			if err == nil && f.Traits().Text { // Traits now describes the document inside
				err = closeText(r)
			}
			return err
		}
	}
	return otherXML(r)
}

// openText opens the document as text.
func openText(r *format.Reading, d *format.Document) error {
	text, encoding := format.Decode(d.First, d.Head)
	if encoding == "UTF-8" {
		if kind := foreign(d.First); kind != "" {
			return r.Unusable("", "the file is "+kind+", which cannot be read here", "save it as CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML")
		}
	}
	r.Encoding = encoding
	r.Text = format.NewWindow(text)
	r.Text.More()
	return nil
}

// closeText reports what was found out about the text's encoding while it was read.
func closeText(r *format.Reading) error {
	if r.Charset.Assumed {
		r.Encoding = "Windows-1252"
		r.ReportFile(format.RuleEncoding, "", "", "the text is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return r.Text.Failed()
}

// otherXML returns what an XML text is when it is in none of our formats.
func otherXML(r *format.Reading) error {
	root, err := xmldoc.Open(r).Root()
	if err != nil {
		return err
	}
	return r.Unusable("", fmt.Sprintf("the file is XML of the kind %q, which cannot be read here", format.Shorten(root.Name.Local)), "save it as GPX, KML, GeoJSON, GeoPackage, Shapefile or CSV")
}
