package batch

import (
	"fmt"
	"time"

	"driftreach/internal/correction"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// listedCorrections are corrections as a manifest lists them.
func listedCorrections(all []correction.Correction) []mapfile.Correction {
	var out []mapfile.Correction
	for _, c := range all {
		out = append(out, mapfile.Correction{
			Date: c.Date.Format(time.DateOnly), Kind: string(c.Kind), RecordID: c.RecordID, StandID: c.StandID, OtherID: c.OtherID,
			Reason: c.Reason, Taken: c.Taken, Effect: c.Effect, Records: c.Records, Stands: c.Stands,
		})
	}
	return out
}

// takenOf reads them back.
func takenOf(all []mapfile.Correction) ([]correction.Correction, error) {
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
