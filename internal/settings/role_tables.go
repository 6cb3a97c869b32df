package settings

import (
	"errors"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"driftreach/internal/column"
)

// knowsTables checks the tables and keys that are named after roles, and gives them their usual
// spelling. text is the TOML text they were read from.
func (s *Settings) knowsTables(text, name string) error {
	var keysOfInputs []string
	for _, k := range inputKeys() {
		keysOfInputs = append(keysOfInputs, k.name)
	}
	unknown := slices.Concat(
		respell("columns", s.Columns, roleNames(), joined[column.Names]),
		respell("units", s.Units, roleNames(), joined[string]),
		respell("inputs", s.Inputs, keysOfInputs, func(_, fresh column.Names) column.Names { return fresh }),
	)
	if len(unknown) == 0 {
		return nil
	}
	// decoding into an empty struct makes the TOML reader report the line of an unknown key
	var nothing struct {
		Columns struct{} `toml:"columns"`
		Units   struct{} `toml:"units"`
		Inputs  struct{} `toml:"inputs"`
	}
	var strict *toml.StrictMissingError
	if errors.As(toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields().Decode(&nothing), &strict) {
		for i := range strict.Errors {
			key := strict.Errors[i].Key()
			if len(key) >= 2 && slices.Contains(unknown, strings.ToLower(key[0])+"."+key[1]) {
				return unknownKey(line(name, &strict.Errors[i]), strings.Join(key, "."), keys())
			}
		}
	}
	return unknownKey(name, unknown[0], keys())
}
