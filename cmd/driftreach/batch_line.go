package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"sync"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
	"driftreach/internal/earlier"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/settings"
)

// job is one batch that a command is asked to make.
type job struct {
	inputs   observed.Inputs
	settings settings.Settings
	files    []mapfile.File // the settings file, for the manifest
	extras   mapfile.Extras
	workers  int
	previous earlier.Folder  // batch to continue; without a path, this quarter begins a chain
	public   *folder.Out     // folder of the public edition; nil for none
	results  *part.Results   // results of its parts; nil if it was not split
	inTurn   int             // work through so many parts in turn; 0 for all at once
	atWork   *sync.WaitGroup // the fill of the folder, which may go on for a while after it was stopped; nil if nobody waits for it
	scratch  *folder.Scratch // temporary files of those parts; nil for none
}

// batchFlags are the flags of the commands that make batches.
type batchFlags struct {
	extras  mapfile.Extras
	workers int
	stage   stageFlag
	budget  budgetFlag
}

func (f *batchFlags) add(flags *pflag.FlagSet) {
	flags.Var(&f.stage, "stage", "water `STAGE` to follow fragments at: base, flood or both; wins over drift.stage of the settings")
	group(flags, settingsGroup)
	flags.Var(&f.budget, "budget", "plan the coming quarters with this `AMOUNT` for each, in acres or in the unit that plan.unit names; wins over plan.budget")
	group(flags, settingsGroup)
	flags.BoolVar(&f.extras.KML, "kml", false, "write map.kml beside map.kmz")
	flags.BoolVar(&f.extras.MapPage, "map-page", false, fmt.Sprintf("write map.html above %d stands too; up to that it is always written", mapfile.MostUnasked))
	flags.BoolVar(&f.extras.Network, "network", false, "write network.geojson, the stream network as it was understood")
	flags.BoolVar(&f.extras.Crew, "crew", false, "write what a crew takes along: crew.html to print, crew.gpx for units, crew.gpkg for telephones")
	flags.BoolVar(&f.extras.Workbook, "xlsx", false, "write tables.xlsx, the tables in one workbook with the dictionary and the cautions")
	flags.BoolVar(&f.extras.GeoPackage, "gpkg", false, "write driftreach.gpkg, every layer in one database")
	group(flags, outputGroup)
	addWorkers(flags, &f.workers)
	group(flags, settingsGroup)
}

func addWorkers(flags *pflag.FlagSet, workers *int) {
	flags.IntVar(workers, "workers", 0, "processors to use; 0 means all of them; the output is the same for any `NUMBER`")
}

// maxWorkers is the largest --workers. Our choice: more processors than any machine the program was
// measured on.
const maxWorkers = 1024

func checkWorkers(workers int) error {
	if workers < 0 || workers > maxWorkers {
		return &usageError{"--workers is out of range", "--workers takes 0 to 1024"}
	}
	return nil
}

// batchLine is a command line that says from what one batch is made, and how.
type batchLine struct {
	flags  *pflag.FlagSet
	from   inputFlags
	how    settingFlags
	with   batchFlags
	last   string
	to     outFlags
	open   string // folder of the public edition
	memory memoryFlag
}

// add adds its flags. what is what --out may replace.
func (l *batchLine) add(flags *pflag.FlagSet, what string) {
	l.flags = flags
	l.from.add(flags, "`QUARTER` the points were surveyed in, as in 2026Q3")
	flags.StringVar(&l.last, "previous", "", "`DIR` of the last batch: stands keep their identities, stands that nobody visited stay in the acreage, and each change is explained")
	l.to.add(flags, "", what)
	flags.StringVar(&l.open, "public", "", "second `DIR` to make, for the public: the same batch with places coarsened to public.grid_m of the settings, and without people, parcels, contacts, remarks, carried columns, crew files and calendar")
	group(flags, outputGroup)
	l.to.addOther(flags, "of another quarter or area, or no batch")
	l.how.add(flags)
	l.with.add(flags)
	l.memory.add(flags)
}

// job reads what the command line asks for. out is --out, if the settings may set it too; otherwise
// nil.
func (l *batchLine) job(p *program, out *string) (job, error) {
	settings, files, err := l.how.read(p.disk)
	if err != nil {
		return job{}, err
	}
	if err := l.from.fill(p.disk, settings.Inputs, filepath.Dir(l.how.file), &l.last, out); err != nil {
		return job{}, err
	}
	if err := errors.Join(l.from.need(true), needOut(l.to.dir)); err != nil {
		return job{}, first(err)
	}
	inputs, err := l.from.read(p.disk)
	if err != nil {
		return job{}, err
	}
	j := job{
		inputs: inputs, settings: l.with.over(settings), files: files, extras: l.with.extras, workers: l.with.workers,
		previous: p.earlier(l.last),
	}
	if l.open != "" {
		edition := p.out(outFlags{l.open, l.to.edited, l.to.other}, folder.PublicEdition, l.guarded(p))
		edition.Quarter, j.public = inputs.Quarter.String(), &edition
	}
	return j, first(errors.Join(apartFrom(l.last, l.to.dir), apartFrom(l.last, l.open), notWithin(l.to.dir, l.open)))
}

// notWithin refuses a public edition inside the folder of the batch, or around it.
func notWithin(out, open string) error {
	if open == "" || !disk.Within(open, out) && !disk.Within(out, open) {
		return nil
	}
	return &usageError{"the folder of --public is, holds or lies in that of --out", "give the public edition a folder of its own, beside the batch"}
}

// guarded returns the files and folders that the command reads.
func (l *batchLine) guarded(p *program) []folder.Guarded {
	return slices.Concat(l.from.guarded(p.disk), l.how.guarded(), guardedBatches(l.last))
}

// apartFrom refuses an output folder that is the batch to continue, contains it or is inside it.
func apartFrom(last, out string) error {
	if last == "" || out == "" || !disk.Within(out, last) && !disk.Within(last, out) {
		return nil
	}
	return &folder.OutputError{
		Path: out, Err: errors.New("it is, holds or lies in the batch before, " + last), Remedy: "choose another --out, one a quarter",
	}
}

// need refuses a command line without the inputs that every batch needs.
func (f *inputFlags) need(quarter bool) error {
	for _, r := range f.roles {
		if r.Needed && len(r.files()) == 0 {
			return &usageError{"no " + r.Is, "name them with --" + r.Name + " FILE"}
		}
	}
	if quarter && f.quarter == "" {
		return &usageError{"no quarter", "name it with --quarter, for example --quarter 2026Q3"}
	}
	return nil
}

func needOut(out string) error {
	if out == "" {
		return &usageError{"no output folder", "name it with --out DIR"}
	}
	return nil
}

// over returns the settings with those of the command line, which take precedence over the file and
// --set.
func (f *batchFlags) over(s settings.Settings) settings.Settings {
	if f.budget != "" {
		s.Plan.Budget, _ = strconv.ParseFloat(string(f.budget), 64) // Set has checked it
	}
	return f.stage.over(s)
}

// earlier returns a finished batch with its name as written in files, and its path; blank for none.
func (p *program) earlier(dir string) earlier.Folder {
	return earlier.Folder{Name: shownFolder(dir), Path: dir, Version: version}
}

// shownFolder returns the name of a folder as written in files; blank for none.
func shownFolder(dir string) string {
	if dir == "" {
		return ""
	}
	return shownNames([]string{dir})[0]
}
