// Package archive reads zip archives of files in other formats, a KMZ among them. Nothing
// is ever unpacked to a disk.
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

// Archive is a zip archive with a file of ours in it, a KMZ among them. Nothing
// is ever unpacked to a disk: members are read where they are, so that their path
// names lead nowhere.
type Archive struct {
	*format.Reading
	files []*zip.File
	Size  int64 // of the archive
	grown int64 // bytes unpacked so far

	inside func(d *format.Document, text io.Reader, take func(*format.Feature) error) error // as document's
}

// Format is a zip archive of files in other formats, a KMZ among them.
type Format struct{}

// Traits implements format.
func (Format) Traits() format.Traits { return format.Traits{Name: "archive"} }

// Is implements format.
func (Format) Is(_ *format.Reading, d *format.Document) bool { return IsZip(d) }

// IsZip says whether a document begins as a zip archive does.
func IsZip(d *format.Document) bool { return d.Begins("PK\x03\x04") || d.Begins("PK\x05\x06") }

// Read reads the one member that can be read, or the one that the layer names.
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

// Open reads the list of an archive's members.
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

// Part returns the member of that name, nil for none.
func (p *Archive) Part(name string) *zip.File {
	for _, f := range p.files {
		if strings.EqualFold(strings.TrimPrefix(f.Name, "/"), name) {
			return f
		}
	}
	return nil
}

// readLinked reads the members that a KML document links to, once each.
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

// readable are the endings of members that hold a layer, by rank: what is there
// beside another, such as a table beside its shapes, is not asked for.
var readable = []string{".shp", ".gpkg", ".parquet", ".geoparquet", ".kml", ".gpx", ".geojson", ".geojsonl", ".json", ".csv", ".tsv", ".txt"}

// choose returns the member to read: of those that the layer names, or with any
// of all, since the layer may be one inside the only member.
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
	// [P] KMZ: the first .kml of the archive is the document (OGC 12-007r2, annex C)
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
		if named[path.Base(f.Name)] > 1 { // in several folders
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

// office names the kind of document of an office program that the archive is, by
// the members that these must have (ECMA-376, part 2; OpenDocument 1.3, part 2);
// blank for none.
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

// names says whether the layer asked for is the member.
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

// Open opens a member within the limits.
func (p *Archive) Open(f *zip.File) (io.ReadCloser, error) {
	const encrypted = 1 // of the flags (APPNOTE 6.3.10, section 4.4.4)
	if f.Flags&encrypted != 0 {
		return nil, p.Unusable(f.Name, "the member of the archive is encrypted", "unpack it")
	}
	r, err := f.Open()
	if err != nil {
		return nil, p.Unusable(f.Name, "the member of the archive cannot be opened: "+err.Error(), "pack it again without encryption, or unpack it")
	}
	return &member{ReadCloser: r, packed: p, name: f.Name}, nil
}

// member is a member of an archive being read, held to the limits.
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
