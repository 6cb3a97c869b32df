package observed

import (
	"context"
	"io"

	"driftreach/internal/format"
	"driftreach/internal/host"
)

// watch makes a source report progress and stop with the context.
func (r *reader) watch(s format.Source) format.Source {
	open := s.Open
	s.Open = func() (io.ReadCloser, error) {
		file, err := open()
		if err != nil {
			return nil, err
		}
		w := watched{ReadCloser: file, ctx: r.ctx, progress: r.host.Listener()}
		if at, seeks := file.(io.ReaderAt); seeks {
			return &watchedAt{w, at}, nil
		}
		return &w, nil
	}
	return s
}

type watched struct {
	io.ReadCloser
	ctx      context.Context
	progress host.Progress
}

// watchedAt is a watched file with random access. It stops with the context and reports no progress,
// since its bytes were reported when they were hashed.
type watchedAt struct {
	watched
	at io.ReaderAt
}

// ReadAt implements io.ReaderAt.
func (w *watchedAt) ReadAt(p []byte, offset int64) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.at.ReadAt(p, offset)
}

// Read implements io.Reader.
func (w *watched) Read(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.ReadCloser.Read(p)
	w.progress.Bytes(int64(n))
	return n, err
}
