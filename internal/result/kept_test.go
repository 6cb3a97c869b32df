package result

import (
	"fmt"
	"math"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/internal/allocate"
	"driftreach/internal/aquatic"
	"driftreach/internal/margin"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestSummedIsTheSummary: the summary that is kept says what one made anew says, however often and by
// how many at once it is asked; who asks for it may change it, and the run itself keeps none.
func TestSummedIsTheSummary(t *testing.T) {
	run := offRegion(t)
	printed := func(r *Run) string {
		table := SummaryTable(r, Summarize(r))
		var all []string
		for i := range table.Rows {
			for _, v := range table.Row(r, i, nil) {
				all = append(all, v.String())
			}
		}
		return strings.Join(all, ",")
	}
	want, kept := printed(run), run.Summed()
	var tasks sync.WaitGroup
	for range 4 {
		tasks.Go(func() {
			if got := printed(kept); got != want {
				t.Errorf("kept: %s\nwant: %s", got, want)
			}
		})
	}
	tasks.Wait()
	sums := Summarize(kept)
	sums[0].Stands, sums[1].Name = -1, "changed"
	if got := printed(kept); got != want {
		t.Errorf("after a reader changed its copy: %s\nwant: %s", got, want)
	}
	run.Stands = run.Stands[:1]
	if got := Summarize(run)[0].Stands; got != 1 {
		t.Errorf("%d stands in the total of the run that was changed, want 1", got)
	}
}

// TestSummedKeepsWorkAtTheWater: the table of work at the water of a run that keeps its rows is the one
// made anew, and does not follow the run any more.
func TestSummedKeepsWorkAtTheWater(t *testing.T) {
	run := offRegion(t)
	run.WaterWork = &WaterWork{Pieces: []BankPiece{{Line: 0, Unit: allocate.Outside, Channel: 1000}, {Line: 1, Unit: allocate.Outside, Shore: 50}}}
	want, kept := run.waterWork(), run.Summed()
	if got := kept.waterWork(); len(want) < 2 || !reflect.DeepEqual(got, want) {
		t.Fatalf("kept: %+v\nanew: %+v", got, want)
	}
	kept.WaterWork = &WaterWork{}
	if got := WaterWorkTable(kept).Rows; got != len(want) {
		t.Errorf("%d rows, want the %d kept", got, len(want))
	}
}

// offRegion returns a region whose acres are off, by causes that come in any order.
func offRegion(t *testing.T) *Run {
	run := region()
	rules, quarter := stand.DefaultSettings(), run.Quarter
	var records []survey.Record
	for i := range 40 {
		records = append(records, survey.Record{ID: fmt.Sprint(i), Position: orb.Point{-118 + 0.01*float64(i*17%40), 34}, Detected: true, PatchArea: 400, Cover: math.NaN(), StemHeight: geo.Meters(math.NaN())})
	}
	stands, _, err := stand.Map(records, quarter, rules, 1)
	if err != nil || len(stands) != len(records) {
		t.Fatalf("%d stands, %v", len(stands), err)
	}
	run.Causes = margin.NewCauses()
	s := margin.Survey{Records: records, Rules: rules, Settings: margin.DefaultSettings()}
	s.Observers = run.Causes.Of(survey.Records{Listed: records}, func(i int) survey.Quarter { return survey.Quarter{Year: int16(2020 + i*7%5), Number: int8(1 + i%4)} })
	for i := range stands {
		run.Stands = append(run.Stands, Stand{Stand: stands[i], Zone: aquatic.Membership{Line: int32(i % 4)}, Margin: s.Of(&stands[i])})
	}
	return run
}
