package mapfile

import (
	"fmt"
	"time"

	"driftreach/internal/correction"
	"driftreach/internal/survey"
)

// ListedCorrections returns corrections in the form of a manifest.
func ListedCorrections(all []correction.Correction) []Correction {
	var out []Correction
	for _, c := range all {
		out = append(out, Correction{
			Date: c.Date.Format(time.DateOnly), Kind: string(c.Kind), RecordID: c.RecordID, StandID: c.StandID, OtherID: c.OtherID,
			Reason: c.Reason, Taken: c.Taken, Effect: c.Effect, Records: c.Records, Stands: c.Stands,
		})
	}
	return out
}

// TakenUp converts them back.
func TakenUp(all []Correction) ([]correction.Correction, error) {
	var out []correction.Correction
	for i, m := range all {
		c := correction.Correction{
			RecordID: m.RecordID, StandID: m.StandID, OtherID: m.OtherID, Reason: m.Reason, Taken: m.Taken, Effect: m.Effect,
			Records: m.Records, Stands: m.Stands,
		}
		kind, known := correction.ParseKind(m.Kind)
		var wrong [2]error
		c.Date, wrong[0] = time.Parse(time.DateOnly, m.Date)
		_, wrong[1] = survey.ParseQuarter(m.Taken)
		if c.Kind = correction.Kind(kind); !known || wrong[0] != nil || wrong[1] != nil {
			return nil, fmt.Errorf("correction %d cannot be read", i+1)
		}
		out = append(out, c)
	}
	return out, nil
}
