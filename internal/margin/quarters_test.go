package margin

import (
	"math"
	"testing"

	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestSplit: by hand, for lone patches of 200 m2 carried from q3, of 100 and 300 m2 measured in q4
// by one observer, and one not measured: own errors of 0.4, and 0.2 common to an observer in a
// quarter.
func TestSplit(t *testing.T) {
	records := []survey.Record{patch(0, 0, 0, 200, "A"), patch(1, 500, 0, 100, "A"), patch(2, 1000, 0, 300, "A"), patch(3, 1500, 0, 0, "A")}
	from := func(i int) survey.Quarter {
		if i == 0 {
			return q3
		}
		return q4
	}
	causes := NewCauses()
	of := Survey{
		Records: records, Own: causes.OwnOf(len(records), []int32{0}, from), Observers: causes.Of(survey.Records{Listed: records}, from),
		Rules: stand.DefaultSettings(), Settings: Settings{Position: 5, PatchOwn: 0.4, PatchShared: 0.2, DefaultPatch: 0.5},
	}
	var sum Form
	for i := range records {
		st := stand.Build(records, []int32{int32(i)}, of.Rules)
		sum.Add(of.Infested(&st), 1)
	}
	off := causes.Split(&sum, q4)
	near(t, "defaults", float64(off.Defaults), 0.5*404.68564224, 1e-9)
	if len(off.Looks) != 2 || off.Looks[0].Quarter != q3 || off.Looks[1].Quarter != q4 {
		t.Fatalf("%+v", off)
	}
	near(t, "q3", float64(off.Looks[0].Sigma), math.Hypot(0.4*200, 0.2*200), 1e-9)
	near(t, "q4", float64(off.Looks[1].Sigma), math.Sqrt(math.Pow(0.4*100, 2)+math.Pow(0.4*300, 2)+math.Pow(0.2*400, 2)), 1e-9)
	squares := float64(off.Defaults * off.Defaults)
	for _, l := range off.Looks {
		squares += float64(l.Sigma * l.Sigma)
	}
	near(t, "together", math.Sqrt(squares), float64(sum.Sigma()), 1e-9)
}
