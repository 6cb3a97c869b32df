package mapfile

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	_ "embed" // the legend's image
	"hash/crc32"
	"io"
	"sync"

	"driftreach/internal/result"
)

//go:embed legend.png
var legendImage []byte

// deflateLevel is how hard the KMZ is packed, 1 to 9.
// our choice: level 1 takes a third of the time of level 6 for a file a third larger.
const deflateLevel = 1

// WriteKMZ writes map.kmz: the document of WriteKML first, as doc.kml, then the
// images it uses. Dates are left zero. Pieces are deflated by themselves and
// joined at byte boundaries, which is one valid stream (RFC 1951, section 3.2.4).
func WriteKMZ(w io.Writer, run *result.Run, workers int) error {
	d, err := newDocument(run, true)
	if err != nil {
		return err
	}
	z := zip.NewWriter(w)
	if err := packDocument(z, d, workers); err != nil {
		return err
	}
	for s := disc; s <= small; s++ {
		img, err := drawIcon(s)
		if err != nil {
			return err
		}
		if err := store(z, s.file(), img); err != nil {
			return err
		}
	}
	if err := store(z, legendFile, legendImage); err != nil {
		return err
	}
	return z.Close()
}

// store adds a file that is packed already.
func store(z *zip.Writer, name string, data []byte) error {
	f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return err
}

// dataDescriptor says that sizes and checksum follow the data (PKWARE APPNOTE
// 6.3.10, section 4.4.4, bit 3): they are not known before.
const dataDescriptor = 0x8

// streamEnd is an empty last block with fixed codes: it ends a deflate stream
// at a byte boundary (RFC 1951, section 3.2.3).
var streamEnd = []byte{0x03, 0x00}

func packDocument(z *zip.Writer, d *document, workers int) error {
	header := &zip.FileHeader{Name: "doc.kml", Method: zip.Deflate, Flags: dataDescriptor}
	f, err := z.CreateRaw(header)
	if err != nil {
		return err
	}
	packers := sync.Pool{New: func() any { return newPacker() }}
	finish := func(b *block) {
		p := packers.Get().(*packer)
		b.deflated, b.err = p.pack(b.text)
		packers.Put(p)
	}
	err = inOrder(d, workers, finish, func(b *block) error {
		header.CRC32 = crc32.Update(header.CRC32, crc32.IEEETable, b.text)
		header.UncompressedSize64 += uint64(len(b.text))
		header.CompressedSize64 += uint64(len(b.deflated))
		_, err := f.Write(b.deflated)
		return err
	})
	if err != nil {
		return err
	}
	header.CompressedSize64 += uint64(len(streamEnd))
	_, err = f.Write(streamEnd)
	return err
}

// packer deflates pieces one after another, each without the ones before.
type packer struct {
	out bytes.Buffer
	w   *flate.Writer
}

func newPacker() *packer {
	p := &packer{}
	// the level is a constant in range, so this cannot fail
	p.w, _ = flate.NewWriter(&p.out, deflateLevel)
	return p
}

// pack returns text deflated up to a byte boundary, without the end mark.
func (p *packer) pack(text []byte) ([]byte, error) {
	p.out.Reset()
	p.w.Reset(&p.out)
	if _, err := p.w.Write(text); err != nil {
		return nil, err
	}
	if err := p.w.Flush(); err != nil {
		return nil, err
	}
	return bytes.Clone(p.out.Bytes()), nil
}
