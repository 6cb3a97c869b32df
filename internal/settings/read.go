package settings

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"driftreach/internal/format"
)

// maxSettingsBytes is the largest settings file. Our choice: a hundred times the size of one with every
// key and a long word list.
const maxSettingsBytes = 1 << 20

// Read returns base with the settings in the TOML text of r, checked. name is the text's name in
// errors. A mistake is an *Error that names the nearest key or the allowed range. base is not changed.
func Read(r io.Reader, name string, base Settings) (Settings, error) {
	text, err := io.ReadAll(io.LimitReader(r, maxSettingsBytes+1))
	if err != nil {
		return base, fmt.Errorf("read settings %s: %w", name, err)
	}
	if len(text) > maxSettingsBytes {
		return base, &Error{Where: name, Problem: "longer than 1 MiB", Remedy: "this does not look like a settings file"}
	}
	if text, err = plain(text); err != nil {
		return base, &Error{Where: name, Problem: err.Error(), Remedy: "save the file as UTF-8"}
	}
	s := base.clone()
	if err := decode(string(text), name, &s); err != nil {
		return base, err
	}
	return s, s.validate(name)
}

// plain returns the text as UTF-8 without a byte-order mark. Editors of Windows write one, and its older
// shell writes what a program prints as UTF-16.
func plain(text []byte) ([]byte, error) {
	r, _ := format.Decode(text[:min(len(text), headBytes)], bytes.NewReader(text))
	text, err := io.ReadAll(r)
	if err != nil {
		return nil, fmt.Errorf("its text cannot be read: %w", err)
	}
	isText := !bytes.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && !unicode.IsSpace(r) })
	for i, line := range bytes.Split(text, []byte("\n")) {
		if isText && !utf8.Valid(line) {
			return nil, fmt.Errorf("line %d holds letters that are not UTF-8", i+1)
		}
	}
	return text, nil
}

// backslashRemedy is for paths as Windows writes them.
const backslashRemedy = `a backslash between "..." begins a sign of its own: write paths with / or between '...'`

// headBytes is how much of a file shows its encoding. Our choice.
const headBytes = 512

// Set returns base with one assignment in the form used on the command line:
// "stands.join_distance_m=25", "drift.stage=flood", "aquatic.bankfull_width_by_order_m=2,5,9",
// "columns.points.parcel=Lot No".
func (s Settings) Set(assignment string) (Settings, error) {
	where := "--set " + strconv.Quote(assignment)
	key, value, found := strings.Cut(assignment, "=")
	if !found || strings.ContainsAny(assignment, "\r\n") {
		return s, &Error{Where: where, Problem: "no key=value", Remedy: "write for example --set stands.join_distance_m=25"}
	}
	changed := s.clone()
	text := tomlKey(strings.TrimSpace(key)) + " = " + tomlValue(strings.TrimSpace(key), strings.TrimSpace(value))
	if err := decode(text, where, &changed); err != nil {
		return s, err
	}
	return changed, changed.validate(where)
}

func decode(text, name string, into *Settings) error {
	d := toml.NewDecoder(strings.NewReader(text)).DisallowUnknownFields()
	err := d.Decode(into)
	if err == nil {
		into.takeRemoved(name)
		return into.knowsTables(text, name)
	}
	var strict *toml.StrictMissingError
	if errors.As(err, &strict) && len(strict.Errors) > 0 {
		first := strict.Errors[0]
		return unknownKey(line(name, &first), strings.Join(first.Key(), "."), keys())
	}
	var wrong *toml.DecodeError
	if !errors.As(err, &wrong) {
		return &Error{Where: name, Problem: err.Error(), Remedy: "`driftreach settings` prints a file to start from"}
	}
	key := strings.Join(wrong.Key(), ".")
	for _, setting := range Table() {
		if setting.Key == key {
			return outOfRange(line(name, wrong), setting, "that kind of value")
		}
	}
	if strings.Contains(wrong.Error(), "cannot store a table") {
		return &Error{
			Where: line(name, wrong), Problem: "[" + key + "] holds single values, no table under it",
			Remedy: "the words of a field stand under [values.FIELD], as in [values.management_status]; `driftreach settings` prints every key",
		}
	}
	remedy := "settings are TOML: key = number, key = \"text\", key = [1, 2]"
	if strings.Contains(wrong.Error(), "escape") {
		remedy = backslashRemedy
	}
	return &Error{Where: line(name, wrong), Problem: strings.TrimPrefix(wrong.Error(), "toml: "), Remedy: remedy}
}

// tomlKey quotes the user's own word at the end of a values key, which may contain spaces and dots.
func tomlKey(key string) string {
	if parts := strings.SplitN(key, ".", 3); len(parts) == 3 && (parts[0] == "values" || parts[0] == "plan") {
		return parts[0] + "." + parts[1] + "." + tomlText(parts[2])
	}
	return key
}

// tomlValue quotes a bare word and puts brackets around a bare list, so that users need not do so in
// the shell.
func tomlValue(key, value string) string {
	if strings.HasPrefix(value, `"`) || strings.HasPrefix(value, "'") || strings.HasPrefix(value, "[") || strings.HasPrefix(value, "{") {
		return value
	}
	table := Table()
	i := slices.IndexFunc(table, func(s Setting) bool { return s.Key == key })
	switch {
	case i >= 0 && table[i].bounds.to > 0:
		return "[" + value + "]"
	case i >= 0 && table[i].bounds.isText(), strings.HasPrefix(key, "columns."), strings.HasPrefix(key, "units."), strings.HasPrefix(key, "values."), strings.HasPrefix(key, "inputs."),
		strings.HasPrefix(key, "files.") && !strings.HasSuffix(key, ".skip_lines"):
		return tomlText(value)
	}
	return value
}
