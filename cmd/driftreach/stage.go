package main

import (
	"errors"
	"slices"

	"driftreach/internal/settings"
)

// stageFlag is --stage: the word for drift.stage; blank to use the settings.
type stageFlag string

// stageWords are the words that --stage accepts.
var stageWords = []string{settings.BaseStage, settings.FloodStage, settings.BothStages}

// String returns the word.
func (s *stageFlag) String() string { return string(*s) }

// Type is the name of the value in help.
func (s *stageFlag) Type() string { return "STAGE" }

// Set accepts only one of the words.
func (s *stageFlag) Set(word string) error {
	if !slices.Contains(stageWords, word) {
		return errors.New("it takes base, flood or both")
	}
	*s = stageFlag(word)
	return nil
}

// over returns the settings with the stage of the command line, which takes precedence over the file
// and --set.
func (s stageFlag) over(settings settings.Settings) settings.Settings {
	if s != "" {
		settings.Drift.Stage = string(s)
	}
	return settings
}
