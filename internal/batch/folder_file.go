package batch

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"
	"os"
)

// fileBuffer is the size of a file's write buffer. Our choice: large enough
// that hashing and writing go by long runs, small enough that a dozen files
// written at once stay within a few MiB.
const fileBuffer = 256 << 10

// Write makes the file name of f from what write sends, and remembers its size
// and SHA-256. Trouble in writing to the disk is an *OutputError; a done
// context ends the writing with its own error.
func (f *Folder) Write(name string, write func(io.Writer) error) error {
	path := f.path(name)
	if err := makeParents(path); err != nil {
		return &OutputError{Path: f.prefix + name, Err: err}
	}
	file, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return &OutputError{Path: f.prefix + name, Err: err}
	}
	sink := &hashedFile{ctx: f.ctx, file: file, sum: sha256.New()}
	buffer := bufio.NewWriterSize(sink, fileBuffer)
	err = write(buffer)
	if err == nil {
		err = buffer.Flush()
	}
	if err == nil {
		sink.err = file.Sync()
		err = sink.err
	}
	if closeErr := file.Close(); err == nil && closeErr != nil {
		sink.err, err = closeErr, closeErr
	}
	if sink.err != nil {
		return &OutputError{Path: f.prefix + name, Err: sink.err}
	}
	if err != nil {
		return err
	}
	f.remember(FileSum{Name: f.prefix + name, SHA256: hex.EncodeToString(sink.sum.Sum(nil)), Bytes: sink.bytes})
	return nil
}

func (f *Folder) remember(sum FileSum) {
	f.mu.Lock()
	defer f.mu.Unlock()
	*f.files = append(*f.files, sum)
}

// hashedFile counts and hashes what goes to a file, and keeps the disk's own
// error apart from the writer's.
type hashedFile struct {
	ctx   context.Context
	file  *os.File
	sum   hash.Hash
	bytes int64
	err   error // of the disk
}

func (h *hashedFile) Write(p []byte) (int, error) {
	if err := h.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := h.file.Write(p)
	h.sum.Write(p[:n])
	h.bytes += int64(n)
	if err != nil {
		h.err = err
	}
	return n, err
}
