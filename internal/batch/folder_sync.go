package batch

import (
	"io/fs"
	"path/filepath"
)

// syncTree syncs every folder below and including dir; the files in them
// were synced one by one.
func syncTree(dir string) error {
	return filepath.WalkDir(dir, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || !entry.IsDir() {
			return err
		}
		return syncDir(at)
	})
}
