package batch

import (
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/lineage"
)

// looked reads the ground that was looked at in the chain so far. A batch that kept
// none tells of its stands alone: the ground about them is all that is known to
// have been looked at.
func (e *earlier) looked(known []lineage.Known, s lineage.Settings, workers int) (*lineage.Looked, error) {
	if _, listed := e.outputs[lookedFile]; !listed {
		e.told = append(e.told, check.Finding{
			Rule: lineage.RuleGround(), File: e.shown(ManifestName),
			Message: fmt.Sprintf("the batch before lists no %s; of what was looked at, the ground about its stands is taken", lookedFile),
		})
		return lineage.NewLooked(lineage.Around(known, s, workers)), nil
	}
	var all orb.MultiPolygon
	err := e.check(lookedFile, func(r io.Reader) error {
		return features(r, func(_, geometry, _ []byte) error {
			areas, err := polygonsOf(geometry)
			all = append(all, areas...)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	e.listed(lookedFile, len(all))
	return lineage.NewLooked(all), nil
}
