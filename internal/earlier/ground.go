package earlier

import (
	"bytes"
	"fmt"
	"io"

	"github.com/paulmach/orb"

	"driftreach/internal/check"
	"driftreach/internal/folder"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/survey"
)

// looked reads the ground surveyed in the chain so far. In a batch from before this was recorded, only
// two things show where people surveyed: the ground around the stands, where its finds are, and the
// discs of its records with nothing found.
func (e *opened) looked(known []lineage.Known, s lineage.Settings, workers int) (*lineage.Surveyed, error) {
	if _, listed := e.file(mapfile.LookedFile); !listed {
		absences, err := e.absences()
		if err != nil {
			return nil, err
		}
		e.told = append(e.told, check.Finding{
			Rule: lineage.RuleGround(), File: e.shown(folder.ManifestName),
			Message: fmt.Sprintf("the batch before lists no %s; of what was looked at, the ground about its %d stands is taken and that of its %d records of nothing found",
				mapfile.LookedFile, len(known), len(absences)),
		})
		seen := lineage.SurveyedNow(lineage.Now{Records: absences}, lineage.Evidence{}, s, workers)
		return lineage.NewSurveyed(lineage.Together([]orb.MultiPolygon{lineage.Around(known, s, workers), seen}, workers)), nil
	}
	var all orb.MultiPolygon
	file, err := e.layer(mapfile.LookedFile, func(r io.Reader) error {
		return features(r, func(_, geometry, _ []byte) error {
			areas, err := polygonsOf(geometry)
			all = append(all, areas...)
			return err
		})
	})
	if err != nil {
		return nil, err
	}
	e.listed(file, len(all))
	return lineage.NewSurveyed(all), nil
}

// absences reads the previous batch's records with nothing found, in file order.
func (e *opened) absences() ([]survey.Record, error) {
	reading := recordReader{quarter: e.quarter}
	var found []survey.Record
	_, err := e.layer(mapfile.PointsFile, func(r io.Reader) error {
		return features(r, func(_, geometry, properties []byte) error {
			if !bytes.Contains(properties, []byte(absentMark)) {
				return nil
			}
			read, err := reading.record(geometry, properties)
			read.record.Detected = false
			found = append(found, read.record)
			return err
		})
	})
	return found, err
}
