package earlier

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"driftreach/internal/drift"
	"driftreach/internal/stretch"
	"driftreach/internal/survey"
)

// TestBanksAreRead: both written forms give the same banks; any other text is an error.
func TestBanksAreRead(t *testing.T) {
	seen := stretch.Look{State: stretch.Looked, Quarter: survey.Quarter{Year: 2026, Number: 1}}
	never := stretch.Look{State: stretch.Never, Quarter: survey.Quarter{Year: 2026, Number: 3}}
	bank := func(last stretch.Look, exposure float64) stretch.Bank {
		return stretch.Bank{Last: last, Exposure: drift.Amount(exposure)}
	}
	both := []stretch.Cell{
		{Banks: [2]stretch.Bank{bank(seen, 1), bank(never, 4)}}, {Banks: [2]stretch.Bank{bank(seen, 0.5), bank(never, 5)}}, {Banks: [2]stretch.Bank{bank(never, 3), bank(never, 6)}},
	}
	alike := []stretch.Cell{{Banks: [2]stretch.Bank{bank(seen, 1), bank(seen, 1)}}, {Banks: [2]stretch.Bank{bank(never, 2), bank(never, 2)}}}
	const line = `{"type":"LineString","coordinates":[[1,2],[3,4]]}`
	for _, c := range []struct {
		banks string
		want  []stretch.Cell
	}{
		{`[["2026Q1",1,0.5,"-2026Q3",3],["-2026Q3",4,5,6]]`, both},
		{`[[["2026Q1",1],["2026Q1",0.5],["-2026Q3",3]],[["-2026Q3",4],["-2026Q3",5],["-2026Q3",6]]]`, both},
		{`[["2026Q1",1,"-2026Q3",2]]`, alike},
		{`[["2026Q1",1,"-2026Q3",2],["2026Q1",1,"-2026Q3",2]]`, alike},
		{`[]`, nil}, {`[[]]`, nil}, {`[["2026Q1"]]`, nil}, {`[[1]]`, nil}, {`[["2026Q1",-1]]`, nil}, {`[["2026Q9",1]]`, nil},
		{`[["2026Q1",1],["2026Q1",1,2]]`, nil}, {`[["2026Q1",1],["2026Q1",1],["2026Q1",1]]`, nil}, {`[["2026Q1",true]]`, nil}, {`[["2026Q1",1]`, nil},
	} {
		got, err := rememberedOf([]byte(`{"type":"Feature","id":"a/1","banks":`+c.banks), []byte(line))
		if (err == nil) != (c.want != nil) || err == nil && !cmp.Equal(got.Cells.Append(nil), c.want) {
			t.Errorf("%s: %v, %v", c.banks, got.Cells.Append(nil), err)
		}
	}
}
