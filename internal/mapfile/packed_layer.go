package mapfile

import (
	"archive/zip"
	"encoding/binary"
	"errors"
	"io"
	"strings"

	"github.com/klauspost/compress/flate"

	"driftreach/internal/result"
)

// MostRecords is the most survey records that a map shows, and for which the layers that grow with them
// are not packed. Our choice: more records cover the map and slow down its viewer, and those layers are
// then half of the folder.
const MostRecords = 20_000

// ManyRecords says whether a run has more records than that.
func ManyRecords(run *result.Run) bool { return run.Records.Len() > MostRecords }

// packedEnding is the ending of a packed layer's file, instead of layerEnding.
const (
	layerEnding  = ".geojson"
	packedEnding = ".zip"
)

// PackedName returns the file name of a packed layer: points.zip for points.geojson.
func PackedName(layer string) string { return strings.TrimSuffix(layer, layerEnding) + packedEnding }

// LayerIn returns the name of the layer in a packed file.
func LayerIn(packed string) string { return strings.TrimSuffix(packed, packedEnding) + layerEnding }

// packable returns the deliverable of a layer, packed if that is wanted. Such layers take long.
func packable(packed bool, layer, role string, rows func(*result.Run) int, write func(io.Writer, *result.Run) error) Deliverable {
	if !packed {
		return OneFile(layer, role, rows, alone(write)).Taking(Long)
	}
	deflaters := forOutlines
	if layer == PointsFile || layer == ReachesFile {
		deflaters = forWords
	}
	return OneFile(PackedName(layer), role, rows, func(w io.Writer, run *result.Run, _ int) error {
		return writePacked(w, layer, deflaters, func(inside io.Writer) error { return write(inside, run) })
	}).Taking(Long)
}

// writePacked writes an archive with one deflated file.
func writePacked(w io.Writer, name string, deflaters *packers, write func(io.Writer) error) error {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return packTo(out, deflaters), nil })
	entry, err := z.CreateHeader(dated(zip.FileHeader{Name: name, Method: zip.Deflate}))
	if err != nil {
		return err
	}
	if err := write(entry); err != nil {
		return err
	}
	return z.Close()
}

// packing deflates to one place, and is kept for the next when it is closed.
type packing struct {
	*flate.Writer
	from *packers
}

func packTo(out io.Writer, deflaters *packers) packing {
	return packing{deflaters.take(out), deflaters}
}

// Close ends the deflated stream.
func (p packing) Close() error {
	err := p.Writer.Close()
	p.Reset(nil) // keeps no file in memory
	p.from.Put(p.Writer)
	return err
}

// The fixed part of the header of a file in a zip archive (PKWARE APPNOTE 6.3.10, section 4.3.7).
const (
	localHeader    = 30
	localSignature = 0x04034b50
	methodAt       = 8
	lengthsAt      = 26 // of the file name and of the extra field, two bytes each
)

// OpenPacked returns the file in the archive of a packed layer as a stream, without holding it in
// memory. It does not check that the file is complete: the manifest's hash does.
func OpenPacked(r io.Reader) (io.Reader, error) {
	var head [localHeader]byte
	if _, err := io.ReadFull(r, head[:]); err != nil {
		return nil, errNotPacked
	}
	if binary.LittleEndian.Uint32(head[:]) != localSignature || binary.LittleEndian.Uint16(head[methodAt:]) != zip.Deflate {
		return nil, errNotPacked
	}
	beside := int64(binary.LittleEndian.Uint16(head[lengthsAt:])) + int64(binary.LittleEndian.Uint16(head[lengthsAt+2:]))
	if _, err := io.CopyN(io.Discard, r, beside); err != nil {
		return nil, errNotPacked
	}
	return flate.NewReader(r), nil
}

var errNotPacked = errors.New("it is no archive as a batch writes it")
