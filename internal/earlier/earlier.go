// Package earlier reads the folder of a finished batch: the known stands, their records, the surveyed
// ground and the figures that the next quarter continues. Nothing in the folder is trusted: each file
// is checked against the manifest, and its contents for plausibility.
package earlier

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/disk"
	"driftreach/internal/followup"
	"driftreach/internal/host"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/survey"
)

// Read returns the batch that a quarter continues: the known stands with their records, and the ground
// surveyed in the chain so far. Every file must have the size and SHA-256 in the manifest. The error is
// an *Error if the folder is not a batch in a form that this version knows, is damaged, is not of an
// earlier quarter, or is of another area; otherwise it is that of a cancelled context.
func Read(ctx context.Context, from Folder, now *Now, h host.Host) (*Batch, error) {
	rules, err := now.Settings.Stages()
	if err != nil {
		return nil, err
	}
	e, err := open(ctx, h.Storage(), from, now.Quarter)
	if err != nil {
		return nil, err
	}
	workers := h.Goroutines()
	p := &Batch{Quarter: e.quarter, Chain: e.chain, Corrections: e.taken}
	if p.Known, err = e.stands(workers); err != nil {
		return nil, err
	}
	if err := e.sameArea(p.Known, now.Centerlines); err != nil {
		return nil, err
	}
	if err := e.records(p, workers); err != nil {
		return nil, err
	}
	if p.Looked, err = e.looked(p.Known, rules.Lineage, workers); err != nil {
		return nil, err
	}
	if p.Stretches, err = e.stretches(now.Settings.SurveyNext); err != nil {
		return nil, err
	}
	if p.History, err = e.history(); err != nil {
		return nil, err
	}
	if err := e.figures(p.Known, p.History); err != nil {
		return nil, err
	}
	if err := e.restate(ctx, p, rules.Stands, workers); err != nil {
		return nil, err
	}
	p.Elsewhere, p.ReachApart = e.elsewhere(p, now), e.reachApart(now)
	if err := e.units(p, now); err != nil {
		return nil, err
	}
	if p.Followup, err = e.followup(); err != nil {
		return nil, err
	}
	if p.Events, err = e.events(); err != nil {
		return nil, err
	}
	if p.Treatments, err = e.jobs(); err != nil {
		return nil, err
	}
	if p.Ever, err = e.ever(); err != nil {
		return nil, err
	}
	if p.LookChanges, err = e.lookChanges(p); err != nil {
		return nil, err
	}
	p.Files, p.Findings = e.read, e.notes(p, now)
	return p, nil
}

// QuarterOf returns the quarter of the batch that a batch of the given quarter continues. The error is
// an *Error, as that of Read.
func QuarterOf(ctx context.Context, d disk.Disk, from Folder, quarter survey.Quarter) (survey.Quarter, error) {
	e, err := open(ctx, d, from, quarter)
	if err != nil {
		return survey.Quarter{}, err
	}
	return e.quarter, nil
}

// stands reads the known stands, by id.
func (e *opened) stands(workers int) ([]lineage.Known, error) {
	present, err := e.known(mapfile.StandsFile, workers)
	if err != nil {
		return nil, err
	}
	absent, err := e.known(mapfile.AbsentFile, workers)
	if err != nil {
		return nil, err
	}
	for i := range absent {
		absent[i].Absent = true
	}
	all := slices.Concat(present, absent)
	slices.SortFunc(all, func(a, b lineage.Known) int { return strings.Compare(a.ID, b.ID) })
	for i := 1; i < len(all); i++ {
		if all[i].ID == all[i-1].ID {
			return nil, e.damaged(fmt.Sprintf("stand %s is in it twice", all[i].ID))
		}
	}
	return all, nil
}

// followup reads the follow-up of the known stands.
func (e *opened) followup() ([]followup.Row, error) {
	text, err := e.text(mapfile.FollowupFile)
	if err != nil {
		return nil, err
	}
	rows, err := followup.Read(bytes.NewReader(text), e.quarter)
	if err != nil {
		return nil, e.damaged(mapfile.FollowupFile + ": " + err.Error())
	}
	return rows, nil
}

// events reads the events of the batch's calendar.
func (e *opened) events() ([]result.Event, error) {
	text, err := e.text(mapfile.CalendarFile)
	if err != nil {
		return nil, err
	}
	events, err := mapfile.ReadCalendar(bytes.NewReader(text))
	if err != nil {
		return nil, e.damaged(mapfile.CalendarFile + ": " + err.Error())
	}
	return events, nil
}
