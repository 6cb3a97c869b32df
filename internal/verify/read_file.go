package verify

import (
	"context"
	"errors"
	"io/fs"

	"driftreach/internal/disk"
)

// maxManifest is the largest manifest in bytes. Our choice: enough for ten thousand files.
const maxManifest = 4 << 20

// maxChecked is the largest file in bytes, since each file is checked in memory. Our choice: larger
// than any file of a region with a million records.
const maxChecked = 4 << 30

// read returns a file of at most limit bytes and its hash.
func read(ctx context.Context, folder fs.FS, name string, limit int64) (data []byte, sum string, err error) {
	file, err := folder.Open(name)
	if err != nil {
		return nil, "", err
	}
	defer file.Close()
	if info, err := file.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, "", errors.Join(err, errors.New("it is no regular file"))
	}
	summed := disk.NewSummed(ctx, file)
	data, err = disk.ReadAll(summed, name, limit)
	return data, summed.Sum(), err
}

// reason removes the path from an error, because the problem already names the file.
func reason(err error) error {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err
	}
	return err
}
