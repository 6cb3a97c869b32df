package batch

import (
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/lineage"
)

// notes are what besides the plant may have moved figures since the earlier
// batch.
func (e *earlier) notes(in Observed, s Settings) []check.Finding {
	found := e.told
	tell := func(rule check.Rule, message string) {
		found = append(found, check.Finding{Rule: rule, File: e.shown(ManifestName), Message: message})
	}
	if next := e.quarter.Next(); next != in.Quarter {
		missing := 0
		for q := next; q != in.Quarter; q = q.Next() {
			missing++
		}
		tell(lineage.RuleGap(), fmt.Sprintf("%s between the batch before, of %s, and this one", quarters(missing), e.quarter))
	}
	if keys := SettingsApart(e.settings, asMap(s)); len(keys) > 0 {
		tell(lineage.RuleSettings(), "the batch before was made with other settings, which moves figures too: "+strings.Join(keys, ", "))
	}
	var streams []string
	for _, file := range in.Files {
		if file.Role == "streams" {
			streams = append(streams, file.SHA256)
		}
	}
	if !slices.Equal(streams, e.streams) {
		tell(lineage.RuleStreams(), fmt.Sprintf("the stream files of %s were others, which moves zone and reach", e.quarter))
	}
	return found
}

func quarters(n int) string {
	if n == 1 {
		return "1 quarter without a batch lies"
	}
	return fmt.Sprintf("%d quarters without a batch lie", n)
}

// asMap returns settings as a manifest holds them.
func asMap(s Settings) map[string]any {
	text, err := json.Marshal(s)
	if err != nil {
		panic("batch: the settings do not marshal: " + err.Error())
	}
	var m map[string]any
	if err := json.Unmarshal(text, &m); err != nil {
		panic("batch: the settings do not unmarshal: " + err.Error())
	}
	return m
}

// SettingsApart returns the keys of settings, as manifests hold them, whose values
// differ, sorted. Words for columns, units and values say how a file was read, the
// trend's how figures are judged, none how they are made: they are passed over.
func SettingsApart(a, b map[string]any) []string {
	keys := apart("", a, b)
	slices.Sort(keys)
	return slices.Compact(keys)
}

func apart(prefix string, a, b map[string]any) []string {
	var keys []string
	for key := range a { // sorted by the caller
		x, inner := a[key].(map[string]any)
		y, also := b[key].(map[string]any)
		switch {
		case prefix == "" && (key == "columns" || key == "units" || key == "values" || key == "trend"):
		case inner && also:
			keys = append(keys, apart(prefix+key+".", x, y)...)
		case !reflect.DeepEqual(a[key], b[key]):
			keys = append(keys, prefix+key)
		}
	}
	for key := range b {
		if _, also := a[key]; !also {
			keys = append(keys, prefix+key)
		}
	}
	return keys
}
