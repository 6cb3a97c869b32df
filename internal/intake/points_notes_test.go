package intake

import (
	"slices"
	"strings"
	"testing"
	"unsafe"

	"driftreach/internal/survey"
)

// TestNotesAreShared: records with the same notes share their text, others have their own; by hand.
// With carried columns only neighbouring records share.
func TestNotesAreShared(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"nothing":         {"id,lon,lat\na,1,2\nb,1,2\n", "nil nil"},
		"blank":           {"id,lon,lat,recordedBy\na,1,2,\nb,1,2,Ann\nc,1,2,\nd,1,2,Ann\n", "nil 1 nil 1"},
		"observers":       {"id,lon,lat,recordedBy,parcel\na,1,2,Ann,P\nb,1,2,Ann,P\nc,1,2,Ben,P\nd,1,2,Ann,P\ne,1,2,AnnP,\n", "1 1 2 1 3"},
		"carried":         {"id,lon,lat,recordedBy,crew\na,1,2,Ann,x\nb,1,2,Ann,x\nc,1,2,Ann,y\nd,1,2,Ann,x\n", "1 1 2 3"},
		"carried, blanks": {"id,lon,lat,crew,boat\na,1,2,,\nb,1,2,,\nc,1,2,,x\n", "1 1 2"},
	} {
		o := testOptions()
		o.Mapping.Columns = single(map[string]string{"occurrenceID": "id"})
		records, _, _ := readPoints(t, c.text, o)
		var seen []*byte
		var got []string
		for _, r := range records {
			if r.Notes == "" {
				got = append(got, "nil")
				continue
			}
			at := unsafe.StringData(string(r.Notes))
			k := slices.Index(seen, at)
			if k < 0 {
				k, seen = len(seen), append(seen, at)
			}
			got = append(got, string(rune('1'+k)))
		}
		if s := strings.Join(got, " "); s != c.want {
			t.Errorf("%s: %s, want %s", name, s, c.want)
		}
	}
}

// TestMergedNotesAreShared: the columns of another file do not stop records from sharing.
func TestMergedNotesAreShared(t *testing.T) {
	one := survey.Notes{Parcel: "P"}.Pack()
	records, extra := MergePoints([]Points{
		{Records: []survey.Record{{Notes: one}, {}, {Notes: one}}},
		{Records: []survey.Record{{Notes: survey.Notes{Extra: []string{"x"}}.Pack()}}, Extra: []string{"crew"}},
	})
	if len(records) != 4 || len(extra) != 1 || unsafe.StringData(string(records[0].Notes)) != unsafe.StringData(string(records[2].Notes)) || records[0].Parcel() != "P" || len(one.Unpack().Extra) != 0 ||
		!slices.Equal(records[1].Told().Extra, []string{""}) || !slices.Equal(records[3].Told().Extra, []string{"x"}) {
		t.Errorf("%+v, %v", records, extra)
	}
}
