package mapfile

import (
	"hash/crc32"
	"testing"

	"pgregory.net/rapid"
)

// TestCRCOfBoth: the checksum of two texts is that of hash/crc32 for the two as one.
func TestCRCOfBoth(t *testing.T) {
	texts := rapid.SliceOfN(rapid.Byte(), 0, 300)
	rapid.Check(t, func(t *rapid.T) {
		a, b := texts.Draw(t, "first"), texts.Draw(t, "second")
		got := crcOfBoth(crc32.ChecksumIEEE(a), crc32.ChecksumIEEE(b), uint64(len(b)))
		if want := crc32.ChecksumIEEE(append(a, b...)); got != want {
			t.Fatalf("%08x, want %08x", got, want)
		}
	})
}
