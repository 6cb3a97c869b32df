package folder

import (
	"bufio"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"strings"
	"sync"

	"driftreach/internal/disk"
)

const (
	// fileBuffer is the size of a file's write buffer. Our choice: large enough for hashing and writing
	// in long runs; writers that collect more write past it.
	fileBuffer = 64 << 10

	// syncEvery is after how many bytes a file is synced while it is being written. Our choice: what an
	// ordinary disk writes in a tenth of a second, so that little is left to sync at the end.
	syncEvery = 16 << 20
)

// buffers are write buffers, used by one file after another.
var buffers = sync.Pool{New: func() any { return bufio.NewWriterSize(nil, fileBuffer) }}

// buffered calls write with a buffer before to, and then passes on what is left in it.
func buffered(to io.Writer, write func(io.Writer) error) error {
	buffer := buffers.Get().(*bufio.Writer)
	buffer.Reset(to)
	defer func() {
		buffer.Reset(nil) // keeps no file in memory
		buffers.Put(buffer)
	}()
	if err := write(buffer); err != nil {
		return err
	}
	return buffer.Flush()
}

// Write creates the file name in f from what write sends, and records its size and SHA-256. The name
// uses forward slashes, and missing folders are made. A name that leads out of f is an error. A disk
// error is returned as an *OutputError; if the context is done, its error is returned. The last sync of
// the file continues after Write has returned: Make waits for it before the folder takes its place, and
// reports its error.
func (f *Folder) Write(name string, write func(io.Writer) error) error {
	shown := f.prefix + name
	if !fs.ValidPath(name) || strings.ContainsAny(name, `\:`) {
		return fmt.Errorf("%q is no name of a file inside the folder", shown)
	}
	path := f.path(name)
	if err := f.ctx.Err(); err != nil {
		return err
	}
	if err := f.makeParents(name); err != nil {
		return &OutputError{Path: shown, Err: err}
	}
	file, err := f.disk.Create(path)
	if err != nil {
		return &OutputError{Path: shown, Err: err}
	}
	sink := &hashedFile{ctx: f.ctx, file: file, sum: sha256.New()}
	err = buffered(sink, write)
	if sink.err != nil {
		err = &OutputError{Path: shown, Err: sink.err}
	}
	if err != nil {
		sink.drop()
		return err
	}
	f.remember(FileSum{Name: shown, SHA256: hex.EncodeToString(sink.sum.Sum(nil)), Bytes: sink.bytes})
	f.late.Go(func() error {
		if err := sink.finish(); err != nil {
			return &OutputError{Path: shown, Err: err}
		}
		return nil
	})
	return nil
}

func (f *Folder) remember(sum FileSum) {
	f.mu.Lock()
	defer f.mu.Unlock()
	*f.files = append(*f.files, sum)
}

// hashedFile counts and hashes the bytes written to a file, syncs it from time to time, and keeps disk
// errors apart from the writer's own errors.
type hashedFile struct {
	ctx   context.Context
	file  disk.File
	sum   hash.Hash
	bytes int64
	err   error // from the disk

	unsynced int64
	syncing  sync.WaitGroup
	syncErr  error // from a background sync; read after syncing is done
	busy     sync.Mutex
}

// Write implements io.Writer.
func (h *hashedFile) Write(p []byte) (int, error) {
	if err := h.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := h.file.Write(p)
	h.sum.Write(p[:n])
	h.bytes += int64(n)
	h.unsynced += int64(n)
	if err != nil {
		h.err = err
	}
	if h.unsynced >= syncEvery && h.busy.TryLock() {
		h.unsynced = 0
		h.syncing.Go(func() {
			defer h.busy.Unlock()
			h.syncErr = errors.Join(h.syncErr, h.file.Sync())
		})
	}
	return n, err
}

// finish makes the file durable and closes it.
func (h *hashedFile) finish() error {
	h.syncing.Wait()
	return errors.Join(h.syncErr, h.file.Sync(), h.file.Close())
}

// drop closes a file that is not kept.
func (h *hashedFile) drop() {
	h.syncing.Wait()
	_ = h.file.Close() // an error is being returned already
}
