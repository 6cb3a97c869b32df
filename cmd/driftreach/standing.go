package main

import (
	"errors"
	"fmt"
	"path/filepath"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
)

// standing returns where the finished folder that a user names is. If that is not the expected place,
// it says so.
func (p *program) standing(dir string) string {
	path, aside := folder.Standing(p.disk, dir)
	if aside {
		p.say("warning", fmt.Sprintf("%s is not there; read is the copy that an interrupted run set aside, %s", dir, path))
	}
	return path
}

// readings is how often a folder is read if another run replaces it meanwhile. Our choice: making a
// batch takes longer than reading one, so the second reading is nearly always of a single batch.
const readings = 3

// steadily reads the finished folder that a user names. The read function checks it against the
// manifest. If that fails, and the folder has moved or has another manifest now, another run is
// replacing it, and the new folder is read from the beginning.
func (p *program) steadily(dir string, read func(at string) error) error {
	for range readings {
		at := p.standing(dir)
		before := p.manifestOf(at)
		err := read(at)
		if err == nil || p.ctx.Err() != nil {
			return err
		}
		now, _ := folder.Standing(p.disk, dir)
		if manifest := p.manifestOf(now); manifest == "" || manifest == before && now == at {
			return err
		}
	}
	return &inputError{
		fmt.Errorf("read %s: another run put a new batch into its place while it was read, %d times", dir, readings),
		"run this again once that other run is done",
	}
}

// manifestOf returns the manifest in a folder; blank for none.
func (p *program) manifestOf(dir string) string {
	text, err := disk.ReadFile(p.disk, filepath.Join(dir, folder.ManifestName), folder.MaxManifest)
	if err != nil {
		return ""
	}
	return string(text)
}

// errUnsound says that a folder does not match its manifest.
var errUnsound = errors.New("the folder is not what its manifest says")
