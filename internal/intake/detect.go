package intake

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
)

// formats are all formats, in the order in which a document is asked whether it is
// one: those that say less of themselves come later, and texts last.
var formats = []format{
	geoPackageFormat{}, parquetFormat{}, shapefileFormat{}, xlsx{}, archiveFormat{},
	geoJSON{}, gpx{}, kml{}, csvFormat{},
}

// readInput reads a source from its first byte.
func readInput(r *reading, in *input, take func(*feature) error) error {
	d := &document{beside: in.source.Beside}
	if d.beside == nil {
		d.beside = func(string) (io.ReadCloser, error) { return nil, fs.ErrNotExist }
	}
	d.whole = func() (io.ReaderAt, int64, error) {
		at, seeks := in.reader.(io.ReaderAt)
		if seeks {
			// to the end for the sum of the bytes; from now on by place
			_, err := io.Copy(io.Discard, d.head)
			return at, in.bytes, err
		}
		all, err := io.ReadAll(io.LimitReader(d.head, r.limits.MemberBytes+1))
		if err == nil && int64(len(all)) > r.limits.MemberBytes {
			err = r.unusable("", "the file is larger than the limit for files that are held in memory", "split the file, or raise limits.member_mb")
		}
		return bytes.NewReader(all), int64(len(all)), err
	}
	return readDocument(r, d, in, take)
}

// readDocument tells the format and gives every feature to take.
func readDocument(r *reading, d *document, text io.Reader, take func(*feature) error) error {
	d.inside = func(member *document, text io.Reader, take func(*feature) error) error {
		return readDocument(r, member, text, take)
	}
	if err := d.open(text); err != nil {
		return err
	}
	if len(d.first) < headBytes && len(bytes.TrimSpace(d.first)) == 0 {
		return r.unusable("", "the file is empty", "check that the right file was named")
	}
	r.text = nil
	for _, f := range formats {
		if f.Traits().text && r.text == nil {
			if err := openText(r, d); err != nil {
				return err
			}
		}
		if f.Is(r, d) {
			r.traits = f.Traits()
			err := f.Read(r, d, take)
			if err == nil && f.Traits().text { // traits are now those of what lay inside
				err = closeText(r)
			}
			return err
		}
	}
	return otherXML(r)
}

// openText makes the document a text.
func openText(r *reading, d *document) error {
	text, encoding := decode(d.first, d.head)
	if encoding == "UTF-8" {
		if kind := foreign(d.first); kind != "" {
			return r.unusable("", "the file is "+kind+", which cannot be read here", "save it as CSV, .xlsx, GeoJSON, GeoPackage, GeoParquet, Shapefile, GPX or KML")
		}
	}
	r.encoding = encoding
	r.text = newWindow(text)
	r.text.more()
	return nil
}

// closeText tells what became known of a text while it was read.
func closeText(r *reading) error {
	if r.charset.assumed {
		r.encoding = "Windows-1252"
		r.reportFile(ruleEncoding, "", "", "the text is not UTF-8 throughout; what is not was read as Windows-1252")
	}
	return r.text.failed()
}

// otherXML says what an XML text is that is none of our formats.
func otherXML(r *reading) error {
	root, err := openXML(r).root()
	if err != nil {
		return err
	}
	return r.unusable("", fmt.Sprintf("the file is XML of the kind %q, which cannot be read here", shorten(root.Name.Local)), "save it as GPX, KML, GeoJSON, GeoPackage, Shapefile or CSV")
}
