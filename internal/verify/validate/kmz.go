package validate

import (
	"archive/zip"
	"bytes"
	"io"
	"path"
	"strings"
	"time"
)

// firstDate is 1 January 1980, the earliest date of an entry (PKWARE APPNOTE 6.3.10, section 4.4.6). It
// is used so that a map has the same bytes on any day. Earlier versions wrote no date.
const firstDate = 1<<5 | 1

// KMZ checks a packed map: doc.kml comes first and is deflated, all entries have the same valid date,
// and every linked image is there. It checks doc.kml and each part it links to with KML.
func KMZ(data []byte, within Bounds) *Report {
	r := &Report{}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil || len(z.File) == 0 {
		r.addf("not a zip file: %v", err)
		return r
	}
	first := z.File[0]
	if first.Name != "doc.kml" || first.Method != zip.Deflate {
		r.addf("first entry is %s, method %d", first.Name, first.Method)
	}
	var files []string
	for _, f := range z.File {
		files = append(files, f.Name)
	}
	var linked map[string]bool // files that doc.kml links to
	for _, f := range z.File {
		if f.ModifiedDate != firstDate && f.ModifiedDate != 0 || f.ModifiedTime != 0 {
			r.addf("%s is dated %s", f.Name, f.Modified.Format(time.DateTime))
		}
		text, err := unpack(f)
		if err != nil {
			r.addf("%s: %v", f.Name, err)
		}
		if path.Ext(f.Name) != ".kml" {
			continue
		}
		inner := KML(text, within, from(f.Name, files)...)
		r.Features += inner.Features
		for _, p := range inner.Problems {
			r.addf("%s: %s", f.Name, p)
		}
		if f == first {
			linked = inner.links
		} else if !linked[f.Name] {
			r.addf("doc.kml does not link to %s", f.Name)
		}
	}
	return r
}

// from returns the names of an archive's files as seen from one of them.
func from(name string, files []string) []string {
	dir := path.Dir(name)
	if dir == "." {
		return files
	}
	var out []string
	for _, f := range files {
		if inside, ok := strings.CutPrefix(f, dir+"/"); ok {
			out = append(out, inside)
		} else {
			out = append(out, strings.Repeat("../", strings.Count(name, "/"))+f)
		}
	}
	return out
}

// unpack returns an entry's content. Reading it to the end also checks its checksum.
func unpack(f *zip.File) ([]byte, error) {
	in, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer in.Close()
	return io.ReadAll(in)
}
