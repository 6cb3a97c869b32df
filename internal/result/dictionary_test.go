package result

import (
	"slices"
	"testing"
)

// The dictionary table describes every field of every table once, including its own.
func TestDictionaryHasEveryField(t *testing.T) {
	run := &complete
	table := DictionaryTable(run)
	var got []string
	var row []Value
	for i := range table.Rows {
		row = table.Row(run, i, row)
		if len(row) != 7 || row[5].String() == "" {
			t.Fatalf("row %d: %v", i, row)
		}
		got = append(got, row[0].String()+"."+row[1].String())
	}
	var want []string
	for _, other := range append(Tables(run), table) {
		for _, f := range other.Fields {
			want = append(want, other.Name+"."+f.Name)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("got %d fields, the tables have %d", len(got), len(want))
	}
	row = table.Row(run, slices.Index(got, "stands.infested_acres"), row)
	if row[3].String() != "acres" || row[4].String() != "number" {
		t.Errorf("infested_acres: %v", row)
	}
	for _, own := range []string{"fields.table", "fields.origin"} {
		if !slices.Contains(got, own) {
			t.Errorf("the dictionary does not define its own %s", own)
		}
	}
}
