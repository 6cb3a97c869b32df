package result

import (
	"testing"

	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// TestLiveSinceTheLastLook: of three stands seen in both quarters, one grew by half an acre and
// stayed live, one of 2 acres was treated in between, and one of 1 acre died. By hand, live acres
// fell by 2.5, treated acres rose by 2, dead acres by 1, and infested acres by 0.5.
func TestLiveSinceTheLastLook(t *testing.T) {
	quarter := survey.Quarter{Year: 2026, Number: 3}
	acres := func(a float64, status survey.Status) stand.Stand {
		return stand.Stand{Status: status, Infested: geo.Acres(a).SquareMeters()}
	}
	run := &Run{Quarter: quarter, AcreDecimals: leastAcreDecimals, Previous: &Previous{Quarter: survey.Quarter{Year: 2026, Number: 2}}}
	for k, pair := range [][2]stand.Stand{
		{acres(1, survey.Untreated), acres(1.5, survey.Resprout)}, {acres(2, survey.Untreated), acres(2, survey.Treated)}, {acres(1, survey.Resprout), acres(1, survey.StandingDead)},
	} {
		run.Previous.Known = append(run.Previous.Known, lineage.Known{Stand: pair[0]})
		run.Stands = append(run.Stands, Stand{Stand: pair[1], Parents: []int32{int32(k)}})
	}
	var s sinceLook
	for k := range run.Stands {
		s.addNow(run, &run.Stands[k], wholeAcres(&run.Stands[k]), StandParts{})
	}
	run.Previous.Fates = make([]lineage.Change, 3)
	for k := range run.Previous.Known {
		known := &run.Previous.Known[k]
		s.addBefore(run, k, knownAcres(known))
	}
	rows := []Sum{{Since: s}}
	got := map[string]string{}
	for _, f := range sinceLookFields(rows) {
		got[f.Name] = f.Value(run, 0).String()
	}
	for name, want := range map[string]string{"live": "-2.5", "infested": "0.5", "treated_stands": "2", "standing_dead": "1"} {
		if got[name+"_since_last_look_acres"] != want {
			t.Errorf("%s: %s, want %s", name, got[name+"_since_last_look_acres"], want)
		}
	}
}
