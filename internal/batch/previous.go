package batch

import (
	"bytes"
	"context"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/followup"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Earlier is the folder of a finished batch to go on from.
type Earlier struct {
	Name    string // as the user named it
	Path    string // where it is
	Version string // of this program; what another version made is restated
}

// In is the same batch where it stands now.
func (e Earlier) In(path string) Earlier {
	e.Path = path
	return e
}

// Previous is the batch before, as this one goes on from it.
type Previous struct {
	Quarter      survey.Quarter
	Chain        string             // identity of the chain
	Known        []lineage.Known    // its stands and those not detected since, by id, under the present rules; Members index into Records
	Then         []result.Then      // by known stand: what that batch printed of it
	Restated     bool               // its stands were measured again
	Elsewhere    bool               // its stands may lie otherwise by the present streams
	ReachApart   []string           // files and settings that its reach was made with and this one's is not
	Records      []survey.Record    // of its stands, by id
	From         []survey.Quarter   // by record: the quarter it is of
	Looked       *lineage.Surveyed  // ground looked at in the chain so far
	Units        []result.UnitAcres // what it printed by reporting unit
	ExtraColumns []string           // of the records
	History      result.History
	Followup     []followup.Row     // of every stand known
	Events       []result.Event     // of its calendar
	Treatments   []result.Treatment // control work that the chain knows of
	Ever         []result.EverRow   // stages of all ever mapped, of it and the batches before

	// LookChanges are what its stands counted among the changes of their quarters.
	LookChanges []result.LookChange
}

// PreviousError is an earlier batch that cannot be gone on from.
type PreviousError struct {
	Problem string
	Remedy  string
}

// Error returns what is wrong with it.
func (e *PreviousError) Error() string { return e.Problem }

// Hint returns what the user can do about it.
func (e *PreviousError) Hint() string { return e.Remedy }

// GoOn reads the earlier batch that a quarter goes on from and adds it to what
// was observed: the stands known with their records, and the ground looked at in the
// chain so far. Every file must have the size and SHA-256 that the earlier manifest
// says. The error is a *PreviousError when the folder is no batch of a form that
// this version knows, is damaged, of no earlier quarter, or of another area; or a
// cancelled context's; in is as it was then, and may be used again.
func GoOn(ctx context.Context, from Earlier, in Observed, s settings.Settings, h Host) (Observed, error) {
	done := h.progress().Stage("read the batch before")
	defer done()
	rules, err := s.Stages()
	if err != nil {
		return in, err
	}
	e, err := openEarlier(ctx, h.disk(), from, in.Quarter)
	if err != nil {
		return in, err
	}
	p := &Previous{Quarter: e.quarter, Chain: e.chain}
	if p.Known, err = e.stands(h.workers()); err != nil {
		return in, err
	}
	if err := e.sameArea(p.Known, in.Centerlines); err != nil {
		return in, err
	}
	if err := e.records(p, h.workers()); err != nil {
		return in, err
	}
	if p.Looked, err = e.looked(p.Known, rules.Lineage, h.workers()); err != nil {
		return in, err
	}
	if p.History, err = e.history(); err != nil {
		return in, err
	}
	if err := e.figures(p.Known, p.History); err != nil {
		return in, err
	}
	if err := e.restate(ctx, p, rules.Stands, h.workers()); err != nil {
		return in, err
	}
	p.Elsewhere, p.ReachApart = e.elsewhere(p, &in, s), e.reachApart(&in, s)
	if err := e.units(p, in); err != nil {
		return in, err
	}
	if p.Followup, err = e.followup(); err != nil {
		return in, err
	}
	if p.Events, err = e.events(); err != nil {
		return in, err
	}
	if p.Treatments, err = e.jobs(); err != nil {
		return in, err
	}
	if p.Ever, err = e.ever(); err != nil {
		return in, err
	}
	if p.LookChanges, err = e.lookChanges(p); err != nil {
		return in, err
	}
	// last, so that what was observed is as it was when this fails
	notes := e.notes(p, in, s) // before corrections change what the rules restate
	in = in.corrected(p, e.taken, rules).settle(p.Known, s)
	in.Previous = p
	in.Files = slices.Concat(in.Files, e.read)
	in.Findings = slices.Concat(in.Findings, notes)
	return in, nil
}

// The files of an earlier batch that are read.
const (
	standsFile   = "stands.geojson"
	absentFile   = "absent.geojson"
	lookedFile   = "looked_at.geojson"
	pointsFile   = "points.geojson"
	everFile     = "ever_mapped.csv"
	historyFile  = "history.csv"
	lineageFile  = "lineage.csv"
	changesFile  = "stand_changes.csv"
	backFile     = "taken_back.csv"
	followupFile = "followup.csv"
	calendarFile = "followup.ics"
	workFile     = "work_done.csv"
)

// stands reads the stands known, by id.
func (e *earlier) stands(workers int) ([]lineage.Known, error) {
	present, err := e.known(standsFile, workers)
	if err != nil {
		return nil, err
	}
	absent, err := e.known(absentFile, workers)
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

// followup reads the follow-up of the stands known.
func (e *earlier) followup() ([]followup.Row, error) {
	text, err := e.text(followupFile)
	if err != nil {
		return nil, err
	}
	rows, err := followup.Read(bytes.NewReader(text), e.quarter)
	if err != nil {
		return nil, e.damaged(followupFile + ": " + err.Error())
	}
	return rows, nil
}

// events reads the events of its calendar.
func (e *earlier) events() ([]result.Event, error) {
	text, err := e.text(calendarFile)
	if err != nil {
		return nil, err
	}
	events, err := mapfile.ReadCalendar(bytes.NewReader(text))
	if err != nil {
		return nil, e.damaged(calendarFile + ": " + err.Error())
	}
	return events, nil
}

// listed tells the manifest of a file that was read.
func (e *earlier) listed(name string, records int) {
	want := e.outputs[name]
	e.read = append(e.read, mapfile.File{
		Name: e.shown(name), Role: "previous", SHA256: want.SHA256, Bytes: want.Bytes, Read: records, Accepted: records,
	})
}
