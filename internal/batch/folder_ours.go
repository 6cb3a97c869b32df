package batch

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
)

// ManifestName is the file by which a folder is known as ours.
const ManifestName = "manifest.json"

// Program is the name the manifest carries.
const Program = "driftreach"

// maxManifestBytes bounds what is read of a manifest. Our choice: ten thousand
// files' worth.
const maxManifestBytes = 4 << 20

// refusedError says why a folder will not be replaced.
type refusedError struct{ why string }

func (e *refusedError) Error() string { return e.why }

// mayReplace returns nil when dir is absent, empty, or a folder of ours that
// holds nothing but the files its manifest lists.
func mayReplace(dir string) error {
	info, err := os.Lstat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return &refusedError{"there is something there that is not a folder"}
	}
	found, err := filesUnder(dir)
	if err != nil || len(found) == 0 {
		return err
	}
	listed, err := listedFiles(dir)
	if err != nil {
		return &refusedError{"the folder has files in it and is not one of ours: " + err.Error()}
	}
	for _, name := range found {
		if !listed[name] {
			return &refusedError{"the folder holds a file that is not ours: " + name}
		}
	}
	return nil
}

// filesUnder returns every file below dir, from its top, in order.
func filesUnder(dir string) ([]string, error) {
	var found []string
	err := filepath.WalkDir(dir, func(at string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, at)
		found = append(found, filepath.ToSlash(name))
		return err
	})
	return found, err
}

// listedFiles returns the files that the manifest in dir answers for, itself
// among them.
func listedFiles(dir string) (map[string]bool, error) {
	file, err := os.Open(filepath.Join(dir, ManifestName))
	if err != nil {
		return nil, fmt.Errorf("no %s", ManifestName)
	}
	defer file.Close()
	var manifest struct {
		Program string
		Outputs []struct{ Name string }
	}
	if err := json.NewDecoder(io.LimitReader(file, maxManifestBytes)).Decode(&manifest); err != nil {
		return nil, fmt.Errorf("%s cannot be read", ManifestName)
	}
	if manifest.Program != Program {
		return nil, fmt.Errorf("%s is of another program", ManifestName)
	}
	listed := map[string]bool{ManifestName: true}
	for _, output := range manifest.Outputs {
		listed[path.Clean(output.Name)] = true
	}
	return listed, nil
}
