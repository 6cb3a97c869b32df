// Package archive reads zip archives that contain files in other formats; a KMZ is one of them. Nothing
// is unpacked to disk.
package archive

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// Archive is a zip archive with a file that can be read, such as a KMZ. Nothing is unpacked to disk:
// members are read in place, so paths in member names can do no harm.
type Archive struct {
	*format.Reading
	files []*zip.File
	Size  int64 // of the archive, in bytes
	grown int64 // bytes unpacked so far

	inside func(d *format.Document, text io.Reader, take func(*format.Feature) error) error // reads a member, as Document.Inside does
}

// Format is a zip archive of files in other formats, such as a KMZ.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "archive"} }

// Is implements format.
func (Format) Is(_ *format.Reading, d *format.Document) bool { return IsZip(d) }

// IsZip says whether a document begins like a zip archive.
func IsZip(d *format.Document) bool { return d.Begins("PK\x03\x04") || d.Begins("PK\x05\x06") }

// Read reads the only readable member, or the one that the layer names.
func (Format) Read(r *format.Reading, d *format.Document, take func(*format.Feature) error) error {
	p, err := Open(r, d)
	if err != nil {
		return err
	}
	take = format.Measured(r, p.Size, take)
	member, err := p.choose(p.Layer == "")
	if err != nil {
		return err
	}
	if err := p.readMember(member, take); err != nil {
		return err
	}
	return p.readLinked(member, take)
}

// Open reads the archive's list of members.
func Open(r *format.Reading, d *format.Document) (*Archive, error) {
	if d.Nested {
		return nil, r.Unusable("", "the archive holds another archive", "unpack it")
	}
	at, size, err := d.All()
	if err != nil {
		return nil, err
	}
	z, err := zip.NewReader(at, size)
	if err != nil {
		return nil, r.Unusable("", "the zip archive cannot be opened: "+err.Error(), "pack it again, or unpack it")
	}
	if len(z.File) > r.Limits.Members {
		return nil, r.Unusable("", fmt.Sprintf("the archive has %d members, more than the limit of %d", len(z.File), r.Limits.Members), "unpack the file that is meant, or raise limits.members")
	}
	p := &Archive{Reading: r, Size: size, inside: d.Inside}
	for _, f := range z.File {
		if !f.FileInfo().IsDir() && !strings.HasPrefix(path.Base(f.Name), ".") && !strings.HasPrefix(f.Name, "__MACOSX") {
			p.files = append(p.files, f)
		}
	}
	return p, nil
}

// Part returns the member of that name, or nil.
func (p *Archive) Part(name string) *zip.File {
	for _, f := range p.files {
		if strings.EqualFold(strings.TrimPrefix(f.Name, "/"), name) {
			return f
		}
	}
	return nil
}

// readLinked reads each member that a KML document links to, once.
func (p *Archive) readLinked(document *zip.File, take func(*format.Feature) error) error {
	linked := p.Linked
	for _, f := range p.files {
		at := path.Dir(document.Name)
		for _, href := range linked {
			if f == document || path.Join(at, href) != f.Name || !strings.EqualFold(path.Ext(f.Name), ".kml") {
				continue
			}
			if err := p.readMember(f, take); err != nil {
				return err
			}
			break
		}
	}
	return nil
}

// readable are the file endings of members that hold a layer, most preferred first. Only members with
// the first ending found are considered, so the table beside a Shapefile is not read as a layer.
var readable = []string{".shp", ".gpkg", ".parquet", ".geoparquet", ".kml", ".gpx", ".geojson", ".geojsonl", ".json", ".csv", ".tsv", ".txt"}

// choose returns the member to read. It looks at the members whose name matches the layer, or, if any
// is true, at all of them: the layer may be one inside the only member.
func (p *Archive) choose(any bool) (*zip.File, error) {
	var found []*zip.File
	for _, ending := range readable {
		for _, f := range p.files {
			if strings.EqualFold(path.Ext(f.Name), ending) && (any || p.names(f)) {
				found = append(found, f)
			}
		}
		if len(found) > 0 {
			break
		}
	}
	if len(found) == 0 && !any {
		return p.choose(true)
	}
	// [P] in a KMZ the first .kml of the archive is the document (OGC 12-007r2, annex C)
	if len(found) > 0 && strings.EqualFold(path.Ext(found[0].Name), ".kml") {
		return found[0], nil
	}
	switch len(found) {
	case 0:
		if kind := p.office(); kind != "" {
			return nil, p.Unusable("", "the file is "+kind+", which cannot be read here", "save the sheet as .xlsx or CSV")
		}
		if slices.ContainsFunc(p.files, func(f *zip.File) bool { return strings.EqualFold(path.Ext(path.Dir(f.Name)), ".gdb") }) {
			return nil, p.Unusable("", "the archive holds a file geodatabase, which cannot be read here", "save its layer as GeoPackage")
		}
		return nil, p.Unusable("", "the archive has no member that can be read", "put a Shapefile, GeoPackage, GeoParquet, KML, GPX, GeoJSON or CSV file into it")
	case 1:
		if p.names(found[0]) {
			p.Layer = ""
		}
		return found[0], nil
	}
	named := map[string]int{}
	for _, f := range found {
		named[path.Base(f.Name)]++
	}
	var names []string
	for _, f := range found {
		name := strings.TrimSuffix(path.Base(f.Name), path.Ext(f.Name))
		if named[path.Base(f.Name)] > 1 { // the name occurs in several folders
			name = f.Name
		}
		names = append(names, name)
	}
	slices.Sort(names)
	if p.Layer != "" && !p.names(found[0]) {
		return nil, p.Unusable("", fmt.Sprintf("the archive has no layer %q; it has %s", p.Layer, format.ShortenTo(strings.Join(names, ", "), 200)), "name one after a colon, as in "+p.File()+":"+names[0])
	}
	return nil, p.Unusable("", "the archive has several layers: "+format.ShortenTo(strings.Join(names, ", "), 200), "name one after a colon, as in "+p.File()+":"+names[0])
}

// office returns the kind of office document (text, slides) that the archive is, judged by the members
// such a document must have (ECMA-376, part 2; OpenDocument 1.3, part 2). It returns blank for any
// other archive.
func (p *Archive) office() string {
	for _, f := range p.files {
		switch {
		case strings.HasPrefix(f.Name, "xl/"):
			return "a spreadsheet in binary form (.xlsb), or a damaged one"
		case f.Name == "content.xml":
			return "a spreadsheet of the OpenDocument form (.ods)"
		case strings.HasPrefix(f.Name, "word/"):
			return "a text document"
		}
	}
	return ""
}

// names says whether the member is the layer that the user asked for.
func (p *Archive) names(f *zip.File) bool {
	base := path.Base(f.Name)
	return strings.EqualFold(p.Layer, base) || strings.EqualFold(p.Layer, strings.TrimSuffix(base, path.Ext(base))) || p.Layer == f.Name
}

func (p *Archive) readMember(member *zip.File, take func(*format.Feature) error) error {
	text, err := p.Open(member)
	if err != nil {
		return err
	}
	defer text.Close()
	d := &format.Document{Nested: true, Beside: func(ending string) (io.ReadCloser, error) {
		want := strings.TrimSuffix(member.Name, path.Ext(member.Name)) + ending
		for _, f := range p.files {
			if strings.EqualFold(f.Name, want) {
				return p.Open(f)
			}
		}
		return nil, fs.ErrNotExist
	}}
	d.Whole = func() (io.ReaderAt, int64, error) {
		all, err := io.ReadAll(d.Head)
		return bytes.NewReader(all), int64(len(all)), err
	}
	return p.inside(d, text, take)
}

// Open opens a member, within the limits.
func (p *Archive) Open(f *zip.File) (io.ReadCloser, error) {
	const encrypted = 1 // bit 0 of the flags (APPNOTE 6.3.10, section 4.4.4)
	if f.Flags&encrypted != 0 {
		return nil, p.Unusable(f.Name, "the member of the archive is encrypted", "unpack it")
	}
	r, err := f.Open()
	if err != nil {
		return nil, p.Unusable(f.Name, "the member of the archive cannot be opened: "+err.Error(), "pack it again without encryption, or unpack it")
	}
	return &member{ReadCloser: r, packed: p, name: f.Name}, nil
}

// member is an archive member that is being read, within the limits.
type member struct {
	io.ReadCloser
	packed *Archive
	name   string
	bytes  int64
}

// Read implements io.Reader.
func (m *member) Read(b []byte) (int, error) {
	n, err := m.ReadCloser.Read(b)
	m.bytes += int64(n)
	p := m.packed
	p.grown += int64(n)
	switch limits := p.Limits; {
	case m.bytes > limits.MemberBytes:
		return 0, p.Unusable(m.name, fmt.Sprintf("the member is larger than the limit of %d bytes", limits.MemberBytes), "unpack the archive, or raise limits.member_mb")
	case p.grown > format.FreeExpansion && p.grown/max(1, p.Size) >= int64(limits.Expansion):
		return 0, p.Unusable(m.name, fmt.Sprintf("the archive unpacks to more than %d times its size", limits.Expansion), "unpack the archive, or raise limits.expansion")
	}
	if err != nil && err != io.EOF {
		err = p.Unusable(m.name, "the member of the archive is damaged: "+err.Error(), "pack it again")
	}
	return n, err
}
