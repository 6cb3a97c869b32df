package settings

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// AsMap returns the settings in the form that a manifest holds.
func (s Settings) AsMap() map[string]any {
	text, err := json.Marshal(s)
	if err != nil {
		panic("settings: the settings do not marshal: " + err.Error())
	}
	var m map[string]any
	if err := json.Unmarshal(text, &m); err != nil {
		panic("settings: the settings do not unmarshal: " + err.Error())
	}
	return m
}

// InTables returns the keys that are in one of the given tables.
func InTables(keys []string, tables ...string) []string {
	return slices.DeleteFunc(slices.Clone(keys), func(key string) bool {
		table, _, _ := strings.Cut(key, ".")
		return !slices.Contains(tables, table)
	})
}

// Apart returns the keys whose values differ between two sets of settings in the form of a manifest,
// sorted. It ignores settings that do not affect how figures are computed: the words for columns, units
// and values (how a file is read), the limits (what is read at all), the trend (how figures are
// judged), the permit (what a requirement says), the plan and the choice of where to survey next (what
// is done next), work at the water (what an office asks for), and the crew sheets and pages (what they
// say).
func Apart(a, b map[string]any) []string {
	keys := apart("", a, b)
	slices.Sort(keys)
	return slices.Compact(keys)
}

// notFigures are the tables of settings that do not affect figures, and the keys in other tables that
// do not.
var notFigures = []string{"columns", "units", "values", "files", "limits", "plan", "crew", "report", "survey_next", "water_work", "public", "trend", permitKey}

func apart(prefix string, a, b map[string]any) []string {
	var keys []string
	for key := range a { // the caller sorts
		x, inner := a[key].(map[string]any)
		y, also := b[key].(map[string]any)
		switch {
		case slices.Contains(notFigures, prefix+key):
		case inner && also:
			keys = append(keys, apart(prefix+key+".", x, y)...)
		case !reflect.DeepEqual(a[key], b[key]):
			keys = append(keys, prefix+key)
		}
	}
	for key := range b {
		if slices.Contains(notFigures, prefix+key) {
			continue
		}
		if _, also := a[key]; !also {
			keys = append(keys, prefix+key)
		}
	}
	return keys
}

// OfReach returns the keys on which reach at risk depends: those of the stands, the water and the
// drift, without the spread of its draws.
func OfReach(keys []string) []string {
	return slices.DeleteFunc(InTables(keys, "stands", "aquatic", "network", "drift"), func(key string) bool {
		return slices.Contains([]string{
			"drift.draws", "drift.seed", "drift.half_distance_gsd", "drift.pass_spread", "drift.release_gsd", "drift.setback_spread_m",
		}, key)
	})
}

// Of returns the settings that a manifest keeps, as AsMap wrote them. It leaves out names of columns
// and files, which say how inputs were read, and keys that this version does not know. A missing key
// gets its default.
func Of(kept map[string]any) (Settings, error) {
	tables := maps.Clone(kept)
	for _, of := range []string{"columns", "units", "values", "files"} {
		delete(tables, of)
	}
	text, err := json.Marshal(tables)
	s := Default()
	if err == nil {
		err = json.Unmarshal(text, &s)
	}
	if err != nil {
		return s, fmt.Errorf("read the settings of a manifest: %w", err)
	}
	return s, s.Validate()
}
