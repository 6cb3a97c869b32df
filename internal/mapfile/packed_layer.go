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

// MostRecords is up to how many survey records a map shows them, and up to how many the
// layers that grow with them lie in the folder unpacked. Our choice: more records hide a
// map under them and hold up its viewer, and those layers are half of a folder.
const MostRecords = 20_000

// ManyRecords says whether a run has more.
func ManyRecords(run *result.Run) bool { return len(run.Records) > MostRecords }

// packedEnding is that of a packed layer's file, in the place of layerEnding.
const (
	layerEnding  = ".geojson"
	packedEnding = ".zip"
)

// PackedName is the file that a layer lies in where it is packed: points.zip for
// points.geojson.
func PackedName(layer string) string { return strings.TrimSuffix(layer, layerEnding) + packedEnding }

// LayerIn is the layer that a packed one's file holds, by its name.
func LayerIn(packed string) string { return strings.TrimSuffix(packed, packedEnding) + layerEnding }

// packable is the deliverable of a layer, packed where that is asked for.
func packable(packed bool, layer, role string, rows func(*result.Run) int, write func(io.Writer, *result.Run) error) Deliverable {
	if !packed {
		return OneFile(layer, role, rows, alone(write))
	}
	return OneFile(PackedName(layer), role, rows, func(w io.Writer, run *result.Run, _ int) error {
		return writePacked(w, layer, func(inside io.Writer) error { return write(inside, run) })
	})
}

// writePacked writes an archive of one file and nothing else, deflated.
func writePacked(w io.Writer, name string, write func(io.Writer) error) error {
	z := zip.NewWriter(w)
	z.RegisterCompressor(zip.Deflate, func(out io.Writer) (io.WriteCloser, error) { return flate.NewWriter(out, deflateLevel) })
	entry, err := z.CreateHeader(dated(zip.FileHeader{Name: name, Method: zip.Deflate}))
	if err != nil {
		return err
	}
	if err := write(entry); err != nil {
		return err
	}
	return z.Close()
}

// The fixed part of what stands before a file in a zip archive (PKWARE APPNOTE 6.3.10,
// section 4.3.7).
const (
	localHeader    = 30
	localSignature = 0x04034b50
	methodAt       = 8
	lengthsAt      = 26 // of the name and of the extra field, two bytes each
)

// OpenPacked returns the file in the archive of a packed layer as a stream; nothing is held
// in memory. It does not check that the file is whole: the manifest's hash shows that.
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
