package mapfile

import (
	"strings"
	"testing"

	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// TestSignsOfTheMap: the signs of a map are the styles of map.kmz, in the order of its legend, by
// hand from the table of colours: four statuses in the zone, four upland, four classes of reach, the
// zone, four statuses of points and the point where nothing was found. A point has a shape and no
// line; a line or an area has a line and no shape.
func TestSignsOfTheMap(t *testing.T) {
	want := `
stand-zone-untreated #0072B2 3 #D55E00 0.7
stand-zone-treated #0072B2 3 #009E73 0.7
stand-zone-resprout #0072B2 3 #E69F00 0.7
stand-zone-standing_dead #0072B2 3 #000000 0.7
stand-upland-untreated #D55E00 1.5 #D55E00 0.35
stand-upland-treated #009E73 1.5 #009E73 0.35
stand-upland-resprout #E69F00 1.5 #E69F00 0.35
stand-upland-standing_dead #000000 1.5 #000000 0.35
reach-high #762A83 7 - 0
reach-moderate #9970AB 5 - 0
reach-low #C2A5CF 3 - 0
reach-possible #999999 2 - 0
aquatic-zone #56B4E9 1 #56B4E9 0.3
point-untreated disc #D55E00
point-treated square #009E73
point-resprout triangle #E69F00
point-standing_dead cross #000000
point-not-detected ring #FFFFFF`
	var got []string
	for _, l := range looks() {
		s := signOfLook(t, l.id)
		if s.Shape != "" {
			got = append(got, s.ID+" "+s.Shape+" "+s.Fill)
			if s.Width != 0 {
				t.Errorf("%s is a point with a line of %v", s.ID, s.Width)
			}
			continue
		}
		fill := s.Fill
		if s.Cover == 0 {
			fill = "-"
		}
		got = append(got, strings.Join([]string{s.ID, s.Line, result.OfDecimals(s.Width, 1).String(), fill, result.OfDecimals(s.Cover, 2).String()}, " "))
		if s.Label == "" {
			t.Errorf("%s has no words in the legend", s.ID)
		}
	}
	if said := "\n" + strings.Join(got, "\n"); said != want {
		t.Errorf("signs:%s\nwant:%s", said, want)
	}
}

// signOfLook returns the sign of a map on which everything is shown, by its id.
func signOfLook(t *testing.T, id string) Sign {
	t.Helper()
	for _, s := range Signs(signed()) {
		if s.ID == id {
			return s
		}
	}
	t.Errorf("no sign %s", id)
	return Sign{}
}

// TestSignsByKind: the id of the sign of each kind of thing, for maps that draw it by themselves.
func TestSignsByKind(t *testing.T) {
	stand := func(s survey.Status, zone bool, carried survey.Quarter) *result.Stand {
		st := &result.Stand{CarriedFrom: carried}
		st.Status, st.Zone.InZone = s, zone
		return st
	}
	before := survey.Quarter{Year: 2026, Number: 1}
	for want, got := range map[string]string{
		"stand-zone-untreated": SignOfStand(stand(survey.Untreated, true, survey.Quarter{})), "stand-upland-treated": SignOfStand(stand(survey.Treated, false, survey.Quarter{})),
		"carried-stand-zone-resprout": SignOfStand(stand(survey.Resprout, true, before)), "carried-stand-upland-standing_dead": SignOfStand(stand(survey.StandingDead, false, before)),
		"reach-high": SignOfReach(drift.High), "reach-moderate": SignOfReach(drift.Moderate), "reach-low": SignOfReach(drift.Low), "reach-possible": SignOfReach(drift.Possible),
		"point-resprout": SignOfPoint(&survey.Record{Detected: true, Status: survey.Resprout}), "point-not-detected": SignOfPoint(&survey.Record{Status: survey.Resprout}),
		"aquatic-zone": SignOfZone(),
	} {
		if got != want {
			t.Errorf("%s, want %s", got, want)
		}
	}
}
