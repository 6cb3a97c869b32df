package main

import (
	"errors"
	"fmt"
	"os"

	"github.com/spf13/pflag"

	"driftreach/internal/batch"
)

// settingFlags are the flags by which a command takes settings.
type settingFlags struct {
	file string
	set  []string
}

func (f *settingFlags) add(flags *pflag.FlagSet) {
	flags.StringVar(&f.file, "settings", "", "settings `FILE` (TOML); `driftreach settings` prints one to start from")
	flags.StringArrayVar(&f.set, "set", nil, "set one `KEY=VALUE`, repeatable; wins over the file")
}

// read returns the defaults, overlaid with the file, overlaid with each --set.
func (f *settingFlags) read() (batch.Settings, error) {
	s := batch.DefaultSettings()
	if f.file != "" {
		file, err := os.Open(f.file)
		if err != nil {
			return s, &usageError{"open settings: " + fault(err), "--settings takes a TOML file; `driftreach settings` prints one to start from"}
		}
		defer file.Close()
		if s, err = batch.ReadSettings(file, f.file, s); err != nil {
			return s, settingFault(err)
		}
	}
	for _, assignment := range f.set {
		var err error
		if s, err = s.Set(assignment); err != nil {
			return s, err
		}
	}
	return s, nil
}

// settingFault makes whatever hinders the reading of settings a usage error.
func settingFault(err error) error {
	var bad *batch.SettingError
	if errors.As(err, &bad) {
		return err
	}
	return &usageError{err.Error(), "--settings takes a TOML file; `driftreach settings` prints one to start from"}
}

// fault returns the error without the operation's name, which messages carry.
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
			if err := noArguments(args); err != nil {
				return err
			}
			s, err := from.read()
			if err != nil {
				return err
			}
			if err := batch.WriteSettings(p.stdout, s); err != nil {
				return fmt.Errorf("print settings: %w", err)
			}
			return nil
		},
	}
}
