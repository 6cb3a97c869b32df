package batch

import (
	"cmp"
	"io"
	"slices"
	"sync"

	"driftreach/geo/parallel"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
)

// Deliver writes every deliverable of run into f. It writes the manifest last; that file marks the
// folder as ours. The bytes are the same for any number of workers. A *result.FaultError is returned
// before anything is written.
func (d Delivery) Deliver(f *folder.Folder, run *result.Run, h host.Host) error {
	if err := result.Guard(run); err != nil {
		return err
	}
	done := h.Listener().Stage("write outputs")
	defer done()
	d.Extras.Notices, d.Extras.Units, d.Extras.Lineage = run.WorksGiven, len(run.Units) > 0, run.Previous != nil
	d.Extras.Work = run.WorkGiven || len(run.Treatments) > 0
	d.Extras.Plan, d.Extras.Links = run.Plan != nil, run.Linked
	d.Extras.SurveyNext, d.Extras.WaterWork = run.Stretches != nil, run.WaterWork != nil
	d.Extras.Packed = mapfile.ManyRecords(run)
	d.Extras.Light = mapfile.NeedsLight(run)
	d.Extras.Parts = len(result.PartsOfStands(run)) > 0
	run = run.Summed()
	page, err := d.page(run)
	if err != nil {
		return err
	}
	first := []mapfile.Deliverable{page}
	if d.Extras.MapPage || len(run.Stands) <= mapfile.MostUnasked {
		first = append(first, browserMap)
	}
	if d.Extras.Crew && !d.Extras.Public {
		first = append(first, crewSheets())
	}
	return d.deliver(f, run, h, append(first, mapfile.Deliverables(d.Extras)...))
}

// deliver writes all deliverables and the manifest that lists their files.
func (d Delivery) deliver(f *folder.Folder, run *result.Run, h host.Host, all []mapfile.Deliverable) error {
	folders := make([]written, len(all))
	var tasks parallel.Group
	tasks.SetLimit(h.Goroutines())
	for _, i := range longestFirst(all) {
		folders[i].to = f
		tasks.Go(func() error { return all[i].Write(&folders[i], run, h.Goroutines()) })
	}
	if err := tasks.Wait(); err != nil {
		return err
	}
	sums, outputs := f.Files(), []mapfile.File{}
	for i, one := range all {
		outputs = append(outputs, folders[i].files(one.Role, sums)...)
	}
	manifest := d.manifest(run, outputs)
	err := f.Write(folder.ManifestName, func(w io.Writer) error { return mapfile.WriteManifest(w, manifest) })
	if err != nil {
		return err
	}
	return f.Synced()
}

// longestFirst returns the order in which to begin deliverables: the longest first, else as listed.
func longestFirst(all []mapfile.Deliverable) []int {
	order := make([]int, len(all))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int { return cmp.Compare(all[j].Length, all[i].Length) })
	return order
}

// written is the folder that one deliverable writes to.
type written struct {
	to      *folder.Folder
	mu      sync.Mutex
	records map[string]int // by file
}

// Write implements mapfile.Folder.
func (d *written) Write(name string, records int, write func(io.Writer) error) error {
	d.mu.Lock()
	if d.records == nil {
		d.records = map[string]int{}
	}
	d.records[name] = records
	d.mu.Unlock()
	return d.to.Write(name, write)
}

// files describes the files written, in the order of sums.
func (d *written) files(role string, sums []folder.FileSum) []mapfile.File {
	var all []mapfile.File
	for _, sum := range sums {
		if n, ours := d.records[sum.Name]; ours {
			all = append(all, mapfile.File{Name: sum.Name, Role: role, SHA256: sum.SHA256, Bytes: sum.Bytes, Read: n, Accepted: n})
		}
	}
	return all
}

func (d Delivery) manifest(run *result.Run, files []mapfile.File) mapfile.Manifest {
	total := result.Summarize(run)[0]
	m := mapfile.Manifest{
		Program: folder.Program, Version: d.Version, Quarter: run.Quarter.String(), Chain: run.Chain,
		Settings: d.Settings, Assumed: run.Assumed, Inputs: d.Inputs, Water: d.Water, Outputs: files,
		Counts: map[string]int{
			"records": run.Records.Len(), "centerlines": run.CountLines(), "stands": total.Stands,
			"isolated_stands": total.Isolated, "aquatic_zone_stands": total.InZone,
			"reaches": len(run.Reaches), "findings": len(run.Findings),
		},
		Seed: run.Seed, Edition: d.edition(), Balance: balances(run), Corrections: mapfile.ListedCorrections(d.Corrections),
	}
	m.Counts["absent_stands"] = len(run.Absent)
	if run.Previous != nil {
		m.Earlier = run.Previous.Quarter.String()
		m.Counts["carried_stands"] = 0
		for i := range run.Stands {
			if run.Stands[i].Carried() {
				m.Counts["carried_stands"]++
			}
		}
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
			Stage: stage.Name, Released: float64(b.Released), Settled: float64(b.Settled), Held: float64(b.Held), Aged: float64(b.Aged), Left: float64(b.Left),
		})
	}
	return all
}
