package batch

import (
	"io"
	"slices"

	"driftreach/geo/parallel"
	"driftreach/internal/correction"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/settings"
)

// Delivery says how a run's deliverables are written.
type Delivery struct {
	Version     string                  // of the program, for the manifest
	Settings    settings.Settings       // as used
	Inputs      []mapfile.File          // as read
	Water       map[string]string       // what the streams, barriers and water surfaces say, as Observed.WaterContent
	Corrections []correction.Correction // that count in the chain
	Extras      mapfile.Extras          // files made only when asked for
}

// Deliver writes every deliverable of run into f, and last the manifest, by
// which the folder is known as ours. The bytes are the same for any number of
// workers. A *result.FaultError comes before anything is written.
func (d Delivery) Deliver(f *folder.Folder, run *result.Run, h Host) error {
	if err := result.Guard(run); err != nil {
		return err
	}
	done := h.progress().Stage("write outputs")
	defer done()
	d.Extras.Notices, d.Extras.Units, d.Extras.Lineage = run.WorksGiven, len(run.Units) > 0, run.Previous != nil
	d.Extras.Work = run.WorkGiven || len(run.Treatments) > 0
	d.Extras.Parts = len(result.PartsOfStands(run)) > 0
	page, err := d.page(run)
	if err != nil {
		return err
	}
	all := append([]mapfile.Deliverable{page}, mapfile.Deliverables(d.Extras)...)
	var tasks parallel.Group
	tasks.SetLimit(h.workers())
	for _, one := range all {
		tasks.Go(func() error {
			return f.Write(one.Name, func(w io.Writer) error { return one.Write(w, run, h.workers()) })
		})
	}
	if err := tasks.Wait(); err != nil {
		return err
	}
	manifest := d.manifest(run, outputs(f, run, all))
	err = f.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, manifest) })
	if err != nil {
		return err
	}
	return f.Synced()
}

// outputs describes the files of f in the order of the deliverables.
func outputs(f *folder.Folder, run *result.Run, all []mapfile.Deliverable) []mapfile.File {
	sums := f.Files()
	files := make([]mapfile.File, 0, len(all))
	for _, one := range all {
		i := slices.IndexFunc(sums, func(s folder.FileSum) bool { return s.Name == one.Name })
		rows := one.Rows(run)
		files = append(files, mapfile.File{
			Name: one.Name, Role: one.Role, SHA256: sums[i].SHA256, Bytes: sums[i].Bytes, Read: rows, Accepted: rows,
		})
	}
	return files
}

func (d Delivery) manifest(run *result.Run, files []mapfile.File) mapfile.Manifest {
	total := result.Summarize(run)[0]
	m := mapfile.Manifest{
		Program: folder.Program, Version: d.Version, Quarter: run.Quarter.String(), Chain: run.Chain,
		Settings: d.Settings, Assumed: run.Assumed, Inputs: d.Inputs, Water: d.Water, Outputs: files,
		Counts: map[string]int{
			"records": len(run.Records), "centerlines": len(run.Centerlines), "stands": total.Stands,
			"isolated_stands": total.Isolated, "aquatic_zone_stands": total.InZone,
			"reaches": len(run.Reaches), "findings": len(run.Findings),
		},
		Seed: run.Seed, Balance: balances(run), Corrections: mapfile.ListedCorrections(d.Corrections),
	}
	m.Counts["absent_stands"] = len(run.Absent)
	if run.Previous != nil {
		m.Earlier = run.Previous.Quarter.String()
		m.Counts["carried_stands"] = count(run.Stands, func(s *result.Stand) bool { return s.Carried() })
	}
	if run.WorksGiven {
		m.Counts["works"], m.Counts["notices"] = len(run.Works), len(run.Notices)
	}
	if len(run.Units) > 0 {
		m.Counts["units"] = len(run.Units)
	}
	return m
}

func balances(run *result.Run) []mapfile.Balance {
	var all []mapfile.Balance
	for _, stage := range run.Stages {
		b := stage.Balance
		all = append(all, mapfile.Balance{
			Stage: stage.Name, Released: b.Released, Settled: b.Settled, Held: b.Held, Aged: b.Aged, Left: b.Left,
		})
	}
	return all
}
