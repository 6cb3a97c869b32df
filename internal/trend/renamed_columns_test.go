package trend_test

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/trend"
)

// A summary with the names of an earlier version gives the same figures, and lists those names.
func TestReadSummaryTakesTheNamesOfAnEarlierVersion(t *testing.T) {
	now := written(t, "Long Water")
	then := []byte(strings.NewReplacer("treated_stands_acres", "treated_acres", "treated_stands_since_last_look_acres", "treated_since_last_look_acres").Replace(string(now)))
	if bytes.Equal(now, then) {
		t.Fatal("the summary has none of the names")
	}
	want, err := trend.ReadSummary(bytes.NewReader(now), third)
	if err != nil || want.OldNames != nil {
		t.Fatal(want.OldNames, err)
	}
	got, err := trend.ReadSummary(bytes.NewReader(then), third)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(got.OldNames, []string{"treated_acres", "treated_since_last_look_acres"}) {
		t.Error(got.OldNames)
	}
	for i := range want.Rows {
		if got.Rows[i].Figures != want.Rows[i].Figures {
			t.Errorf("%v, want %v", got.Rows[i].Figures, want.Rows[i].Figures)
		}
	}
	if got.Rows[0].Figures[trend.Treated] != 2.5e8 {
		t.Errorf("2.5 acres of treated stands are %d", got.Rows[0].Figures[trend.Treated])
	}
}

// Both names in one header stay two columns.
func TestPresentNamesKeepBoth(t *testing.T) {
	header := []string{"scope", "treated_stands_acres", "treated_acres"}
	if now, old := trend.PresentNames(header); !slices.Equal(now, header) || old != nil {
		t.Error(now, old)
	}
}
