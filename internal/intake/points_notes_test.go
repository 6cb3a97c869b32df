package intake

import (
	"slices"
	"strings"
	"testing"

	"driftreach/internal/survey"
)

// TestNotesAreShared: records with the same notes share one Notes, others have their own; by hand.
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
		var seen []*survey.Notes
		var got []string
		for _, r := range records {
			if r.Notes == nil {
				got = append(got, "nil")
				continue
			}
			k := slices.Index(seen, r.Notes)
			if k < 0 {
				k, seen = len(seen), append(seen, r.Notes)
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
	one := survey.Notes{Parcel: "P"}
	records, extra := MergePoints([]Points{
		{Records: []survey.Record{{Notes: &one}, {}, {Notes: &one}}},
		{Records: []survey.Record{{Notes: &survey.Notes{Extra: []string{"x"}}}}, Extra: []string{"crew"}},
	})
	if len(records) != 4 || len(extra) != 1 || records[0].Notes != records[2].Notes || records[0].Told().Parcel != "P" || len(one.Extra) != 0 ||
		!slices.Equal(records[1].Told().Extra, []string{""}) || !slices.Equal(records[3].Told().Extra, []string{"x"}) {
		t.Errorf("%+v, %v", records, extra)
	}
}
