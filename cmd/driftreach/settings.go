package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
)

// settingFlags are the flags for a command's settings.
type settingFlags struct {
	file string
	set  []string
}

func (f *settingFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&f.file, "settings", "", "settings `FILE` (TOML); `driftreach settings` prints one to start from")
	flags.StringArrayVar(&f.set, "set", nil, "set one `KEY=VALUE`, repeatable; wins over the file")
	group(flags, settingsGroup)
}

// read returns the defaults, overlaid with the file, overlaid with each --set. It also returns the
// file's manifest entry, if there is a file.
func (f *settingFlags) read(d disk.Disk) (settings.Settings, []mapfile.File, error) {
	s := settings.Default()
	var files []mapfile.File
	if f.file != "" {
		file, err := d.Open(f.file)
		if err != nil {
			return s, nil, &usageError{"open settings: " + fault(err), remedyFor(err, settingsRemedy)}
		}
		defer file.Close()
		var text bytes.Buffer
		if s, err = settings.Read(io.TeeReader(file, &text), f.file, s); err != nil {
			return s, nil, settingFault(err)
		}
		files = append(files, mapfile.File{
			Name: shownNames([]string{f.file})[0], Role: "settings", SHA256: fmt.Sprintf("%x", sha256.Sum256(text.Bytes())), Bytes: int64(text.Len()),
		})
	}
	for _, assignment := range f.set {
		var err error
		if s, err = s.Set(assignment); err != nil {
			return s, nil, err
		}
	}
	return s, files, nil
}

// settingsRemedy is the hint for a settings file that cannot be read.
const settingsRemedy = "--settings takes a TOML file; `driftreach settings` prints one to start from"

// settingFault turns any error in reading the settings into a usage error.
func settingFault(err error) error {
	var bad *settings.Error
	if errors.As(err, &bad) {
		return err
	}
	return &usageError{err.Error(), settingsRemedy}
}

// guarded returns the settings file, which an output must not overwrite.
func (f *settingFlags) guarded() []folder.Guarded {
	if f.file == "" {
		return nil
	}
	return []folder.Guarded{{What: "the settings file " + f.file, Path: f.file}}
}

// remedyFor returns the remedy for a disk error, or else the usual one.
func remedyFor(err error, usual string) string {
	var none *disk.NoFileError
	if errors.As(err, &none) {
		return none.Remedy()
	}
	return usual
}

// fault returns the error text without the operation, which messages give already.
func fault(err error) string {
	var at *os.PathError
	if errors.As(err, &at) {
		return at.Path + ": " + at.Err.Error()
	}
	return err.Error()
}

func (p *program) settingsCommand() *command {
	flags := pflag.NewFlagSet("settings", pflag.ContinueOnError)
	var from settingFlags
	from.add(flags)
	return &command{
		name: "settings", line: "print every setting with default, unit, range and origin", usage: "[--settings FILE] [--set KEY=VALUE]...",
		text: `Prints every setting as a settings file, each with its meaning, the origin of its
default ([P] published, [C] common practice, [A] assumed), source, range and unit.
With --settings or --set, prints the settings a batch would use.`,
		example: "driftreach settings > settings.toml",
		flags:   flags,
		run: func(args []string) error {
			if err := noArguments(args, onlyFlags); err != nil {
				return err
			}
			s, _, err := from.read(p.disk)
			if err != nil {
				return err
			}
			for _, f := range s.Removed {
				p.say("warning", fmt.Sprintf("%s: %s: %s", f.File, f.Field, f.Message))
			}
			if err := settings.Write(p.stdout, s); err != nil {
				return fmt.Errorf("print settings: %w", err)
			}
			return nil
		},
	}
}
