package earlier

import (
	"reflect"
	"testing"

	"driftreach/internal/result"
)

// Every property read from an earlier batch is in the dictionary it was written with: a renamed
// field is not silently read as missing.
func TestPropertiesAreOfTheDictionary(t *testing.T) {
	run := &result.Run{Previous: &result.Previous{}}
	written := map[string]bool{}
	for _, table := range []result.Table{result.StandTable(run), result.AbsentTable(run)} {
		for _, f := range table.Fields {
			written[f.Name] = true
		}
	}
	for _, of := range []reflect.Type{reflect.TypeFor[knownProperties](), reflect.TypeFor[printedAcres]()} {
		for i := range of.NumField() {
			if f := of.Field(i); !f.Anonymous && !written[f.Tag.Get("json")] {
				t.Errorf("%s is read, and no table of stands has it", f.Tag.Get("json"))
			}
		}
	}
}
