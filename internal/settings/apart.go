package settings

import (
	"encoding/json"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
)

// AsMap returns settings as a manifest holds them.
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

// InTables returns those of some keys of settings that are in one of the tables.
func InTables(keys []string, tables ...string) []string {
	return slices.DeleteFunc(slices.Clone(keys), func(key string) bool {
		table, _, _ := strings.Cut(key, ".")
		return !slices.Contains(tables, table)
	})
}

// Apart returns the keys of settings, as manifests hold them, whose values
// differ, sorted. Words for columns, units and values, in general and by file, say how
// a file was read, limits what is read at all, the trend's how figures are judged, the
// permit's what a requirement says, the plan's and where to look next what is done next,
// that of work at the water what an office asks for, the crew's and the pages' what is
// said, none how they are made:
// they are passed over.
func Apart(a, b map[string]any) []string {
	keys := apart("", a, b)
	slices.Sort(keys)
	return slices.Compact(keys)
}

// notFigures are the tables of settings that say nothing of how figures are made, and
// the keys of others that do not.
var notFigures = []string{"columns", "units", "values", "files", "limits", "plan", "crew", "report", "survey_next", "water_work", "public", "trend", permitKey}

func apart(prefix string, a, b map[string]any) []string {
	var keys []string
	for key := range a { // sorted by the caller
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

// OfReach returns those of some keys of settings that reach at risk is made with:
// those of the stands, the water and the drift, but for the spread of its draws.
func OfReach(keys []string) []string {
	return slices.DeleteFunc(InTables(keys, "stands", "aquatic", "network", "drift"), func(key string) bool {
		return slices.Contains([]string{
			"drift.draws", "drift.seed", "drift.half_distance_gsd", "drift.pass_spread", "drift.release_gsd", "drift.setback_spread_m",
		}, key)
	})
}

// Of returns the settings that a manifest keeps, as AsMap wrote them, but for names of
// columns and files, which say how inputs were read and nothing of what was made of them.
// A key that this version does not know is left out, one that is missing has its default.
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
