package parquet

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"

	"github.com/klauspost/compress/snappy"
	"github.com/klauspost/compress/zstd"
)

// The compression codecs that can be read, by their numbers.
const (
	codecNone   = 0
	codecSnappy = 1
	codecGzip   = 2
	codecZstd   = 6
)

// codecNames are the codecs that cannot be read.
var codecNames = map[int64]string{3: "LZO", 4: "Brotli", 5: "LZ4", 7: "LZ4"}

// errWrongSize says that a page does not have the size its header gives.
var errWrongSize = errors.New("a page is not of the size it claims")

// unpack decompresses a page to n bytes. It allocates at most n bytes, and only as data arrives or is
// certain to arrive.
func unpack(codec int64, packed []byte, n int) ([]byte, error) {
	var from io.Reader
	switch codec {
	case codecNone:
		if len(packed) != n {
			return nil, errWrongSize
		}
		return packed, nil
	case codecSnappy:
		return unpackSnappy(packed, n)
	case codecGzip:
		z, err := gzip.NewReader(bytes.NewReader(packed))
		if err != nil {
			return nil, err
		}
		from = z
	case codecZstd:
		z, err := zstd.NewReader(bytes.NewReader(packed), zstd.WithDecoderConcurrency(1), zstd.WithDecoderLowmem(true), zstd.WithDecoderMaxMemory(widestZstd))
		if err != nil {
			return nil, err
		}
		defer z.Close()
		from = z
	default:
		return nil, fmt.Errorf("its compression is of kind %d", codec)
	}
	page, err := io.ReadAll(io.LimitReader(from, int64(n)+1))
	if err == nil && len(page) != n {
		err = errWrongSize
	}
	return page, err
}

// widestZstd is the largest Zstandard window the decoder keeps in memory. Our choice: eight times the 8
// MiB that the format advises every decoder to support (RFC 8878, section 3.1.1.1.2).
const widestZstd = 64 << 20

// unpackSnappy decompresses a block, which begins with its decompressed length.
func unpackSnappy(packed []byte, n int) ([]byte, error) {
	length, err := snappy.DecodedLen(packed)
	if err != nil {
		return nil, err
	}
	// three bytes encode a copy of at most 64 (snappy format description, section 2.2)
	if length != n || length > 22*len(packed)+64 {
		return nil, errWrongSize
	}
	return snappy.Decode(nil, packed)
}
