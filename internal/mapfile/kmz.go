package mapfile

import (
	"archive/zip"
	_ "embed" // for the legend's image
	"io"
	"math"

	"driftreach/internal/result"
)

//go:embed legend.png
var legendImage []byte

// writeKMZ writes map.kmz: first the document of writeKML as doc.kml, then the parts of a large map,
// then the images. Entries have the earliest possible date, since an entry without a date is not valid
// (PKWARE APPNOTE 6.3.10, section 4.4.6: from 1980). Pieces are deflated separately and joined at byte
// boundaries, which gives one valid stream (RFC 1951, section 3.2.4).
func writeKMZ(w io.Writer, run *result.Run, workers int) error {
	d := newDocument(run, true)
	z := zip.NewWriter(w)
	if err := packDocument(z, "doc.kml", d, workers); err != nil {
		return err
	}
	for _, p := range d.parts {
		if err := packDocument(z, p.file, p.doc, workers); err != nil {
			return err
		}
	}
	if err := storeIcons(z); err != nil {
		return err
	}
	if err := store(z, legendFile, legendImage); err != nil {
		return err
	}
	return z.Close()
}

// storeIcons adds the images of points.
func storeIcons(z *zip.Writer) error {
	images, err := icons()
	for i, img := range images {
		if err := store(z, (disc + shape(i)).file(), img); err != nil {
			return err
		}
	}
	return err
}

// dataDescriptor says that sizes and checksum come after the data, since they are not known before
// (PKWARE APPNOTE 6.3.10, section 4.4.4, bit 3).
const dataDescriptor = 0x8

// streamEnd is an empty final block with fixed codes, which ends a deflate stream at a byte boundary
// (RFC 1951, section 3.2.3).
var streamEnd = []byte{0x03, 0x00}

func packDocument(z *zip.Writer, name string, d *document, workers int) error {
	header := dated(zip.FileHeader{Name: name, Method: zip.Deflate, Flags: dataDescriptor})
	f, err := z.CreateRaw(header)
	if err != nil {
		return err
	}
	err = inOrder(d, workers, (*block).finish, func(b *block) error {
		header.CRC32 = crcOfBoth(header.CRC32, b.sum, b.size)
		header.UncompressedSize64 += b.size
		header.CompressedSize64 += uint64(b.deflated.Len())
		_, err := f.Write(b.deflated.Bytes())
		return err
	})
	if err != nil {
		return err
	}
	header.CompressedSize64 += uint64(len(streamEnd))
	// the zip writer also needs the 32-bit fields; their maximum means "see the 64-bit fields"
	//lint:ignore SA1019 after CreateRaw nothing else fills them in
	header.CompressedSize = uint32(min(header.CompressedSize64, math.MaxUint32))
	//lint:ignore SA1019 after CreateRaw nothing else fills them in
	header.UncompressedSize = uint32(min(header.UncompressedSize64, math.MaxUint32))
	_, err = f.Write(streamEnd)
	return err
}
