package parquet_test

import (
	"encoding/binary"
	"testing"

	"driftreach/internal/testkit"
	"driftreach/internal/testkit/layers"
)

// FuzzParquet reads any bytes that begin as Parquet does, and again with the end of a
// file that says how long its table of contents is.
func FuzzParquet(f *testing.F) {
	for _, b := range testkit.Stored(f, "parquet/feet.parquet", "parquet/groups.parquet", "parquet/differences.parquet", "parquet/native_lines.parquet", "parquet/types.parquet", "parquet/half.parquet", "parquet/script.parquet") {
		f.Add(b)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		b = append([]byte("PAR1"), b[min(4, len(b)):]...)
		layers.Hold(t, layers.Form{File: "f", Bytes: b})
		if n := len(b) - 8; n > 4 {
			copy(b[n+4:], "PAR1")
			binary.LittleEndian.PutUint32(b[n:], min(binary.LittleEndian.Uint32(b[n:]), uint32(n-4)))
			layers.Hold(t, layers.Form{File: "f", Bytes: b})
		}
	})
}
