package batch

import (
	"context"
	"fmt"
	"io"
	"slices"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Inputs is what one quarter's batch is made from. All but points and streams are
// optional.
type Inputs struct {
	Points      []format.Source
	Streams     []format.Source
	Works       []format.Source // planned works
	Units       []format.Source // reporting units
	Surveyed    []format.Source // ground walked or flown
	Treatments  []format.Source // control work done
	Corrections []format.Source // of earlier records and stands
	Barriers    []format.Source // barriers that are points
	Water       []format.Source // lakes and wide rivers, areas
	Quarter     survey.Quarter
	After       survey.Quarter // of the batch before: evidence begins after it; zero for none
	// Trial reads on past what would stop the batch; each file tells of it.
	Trial bool
	// The reference systems of the files, as earth.ParseCRS reads them; blank for
	// what the files say.
	PointsCRS, StreamsCRS, WorksCRS, UnitsCRS, SurveyedCRS, TreatmentsCRS, BarriersCRS, WaterCRS string
}

// Sources returns every file of the inputs.
func (in Inputs) Sources() []format.Source {
	return slices.Concat(in.Points, in.Streams, in.Works, in.Units, in.Surveyed, in.Treatments, in.Barriers, in.Water, in.Corrections)
}

// Read reads and checks the inputs. Everything the checks say is in the
// Observed's findings; the error is an *intake.UnusableError when nothing can
// be made of a file, or a cancelled context's. The answer depends on the set
// of records in all files, not on their order.
func Read(ctx context.Context, in Inputs, s settings.Settings, h Host) (Observed, error) {
	done := h.progress().Stage("read inputs")
	defer done()
	tasks := []func(*reader, Inputs) error{
		(*reader).points, (*reader).streams, (*reader).works, (*reader).units, (*reader).surveyed, (*reader).treatments,
		(*reader).barriers, (*reader).water, (*reader).corrections,
	}
	readers, failed := make([]reader, len(tasks)), make([]error, len(tasks))
	// they need nothing of each other
	var group parallel.Group
	group.SetLimit(h.workers())
	for i, task := range tasks {
		readers[i] = reader{ctx: ctx, settings: s, host: h, trial: in.Trial, out: Observed{Quarter: in.Quarter}}
		group.Go(func() error { failed[i] = task(&readers[i], in); return nil })
	}
	_ = group.Wait() // no task fails
	for _, err := range failed {
		if err != nil {
			return Observed{}, err
		}
	}
	r := together(readers)
	r.site()
	if len(in.Streams) > 0 {
		r.placeBarriers()
	}
	r.out.Findings = check.Join(append(r.told, s.Removed)...)
	return r.out, nil
}

// together is one reader with what the readers of each input gathered: points,
// streams, works, units, surveyed ground, control work, barriers, water surfaces and
// corrections.
func together(readers []reader) *reader {
	r := readers[0]
	r.out.Centerlines = readers[1].out.Centerlines
	r.out.WorksGiven, r.out.Works = readers[2].out.WorksGiven, readers[2].out.Works
	r.out.Units = readers[3].out.Units
	r.out.SurveyedGiven, r.out.Surveyed = readers[4].out.SurveyedGiven, readers[4].out.Surveyed
	r.out.WorkGiven, r.out.WorkFirst, r.out.Actions = readers[5].out.WorkGiven, readers[5].out.WorkFirst, readers[5].out.Actions
	r.out.Barriers = readers[6].out.Barriers
	r.out.Water, r.out.Corrections = readers[7].out.Water, readers[8].out.Corrections
	for i := range readers[1:] {
		other := &readers[i+1]
		r.told = append(r.told, other.told...)
		r.out.Files = append(r.out.Files, other.out.Files...)
		r.out.ColumnReports = append(r.out.ColumnReports, other.out.ColumnReports...)
		r.parts = append(r.parts, other.parts...)
	}
	r.out.Files = append(r.out.Files, r.parts...)
	return &r
}

// reader gathers what is read.
type reader struct {
	ctx      context.Context
	settings settings.Settings
	host     Host
	trial    bool
	out      Observed          // its findings stand in told until all is read
	told     [][]check.Finding // what each check found
	parts    []mapfile.File    // files that belong to those named, such as a Shapefile's table
}

func (r *reader) points(in Inputs) error {
	files, err := readAll(r, in.Points, role{"points", in.PointsCRS}, intake.ReadPoints)
	if err != nil {
		return err
	}
	records, extra := intake.MergePoints(files)
	rules := survey.DefaultOptions(in.Quarter)
	rules.JoinDistance, rules.Setback = geo.Meters(r.settings.Stands.JoinDistance), geo.Meters(r.settings.Aquatic.Setback)
	rules.LargestPatch = geo.SquareMeters(r.settings.Survey.LargestPatch)
	rules.First = in.firstDay(r.settings)
	done := survey.Examine(records, rules)
	r.out.Records, r.out.ExtraColumns, r.out.Dated = done.Records, extra, done.Quarters
	r.found(done.Findings)
	for i := range files {
		r.file(files[i].File, "points", 0)
	}
	r.out.setAside(done.Aside)
	return nil
}

func (r *reader) streams(in Inputs) error {
	files, err := readAll(r, in.Streams, role{"streams", in.StreamsCRS}, intake.ReadStreams)
	if err != nil {
		return err
	}
	lines := recordsOf(files, func(f *intake.Streams) []stream.Centerline { return f.Centerlines })
	accepted, findings := stream.Check(lines, stream.Options{})
	r.out.Centerlines = accepted
	r.found(findings)
	for i := range files {
		n := count(accepted, func(l *stream.Centerline) bool { return l.File == files[i].Name })
		r.file(files[i].File, "streams", n)
	}
	return nil
}

// setAside adds what was set aside of each file of points to its totals, and
// counts again what is accepted.
func (o *Observed) setAside(aside []survey.Aside) {
	for i := range o.Files {
		total := &o.Files[i]
		if total.Role != "points" || i >= len(o.ColumnReports) {
			continue
		}
		for _, a := range aside {
			if a.File == total.Name {
				total.SetAside += a.Records
			}
		}
		total.Accepted = count(o.Records, func(rec *survey.Record) bool { return rec.File == total.Name })
		total.Rejected = total.Read - total.Accepted - total.SetAside
	}
}

// role is an input by its name.
type role struct {
	name   string
	system string // reference system; blank for what the files say
}

// readAll reads every file of an input.
func readAll[F any](r *reader, sources []format.Source, as role, read func(format.Source, intake.Options) (F, []check.Finding, error)) ([]F, error) {
	files := make([]F, 0, len(sources))
	for _, source := range sources {
		options, err := r.options(as, source)
		if err != nil {
			return nil, err
		}
		file, findings, err := read(r.watch(source), options)
		if err != nil {
			return nil, err
		}
		files = append(files, file)
		r.found(findings)
	}
	return files, nil
}

func (r *reader) found(findings []check.Finding) { r.told = append(r.told, findings) }

// recordsOf returns the records of all files: those of a single one as they are,
// which its reader has no more use for.
func recordsOf[F, R any](files []F, of func(*F) []R) []R {
	if len(files) == 1 {
		return of(&files[0])
	}
	parts := make([][]R, len(files))
	for i := range files {
		parts[i] = of(&files[i])
	}
	return slices.Concat(parts...)
}

// options says how a file is read, with the user's names for its columns.
func (r *reader) options(as role, source format.Source) (intake.Options, error) {
	table, ok := survey.FindCoverTable(r.settings.Stands.CoverTable)
	if !ok {
		return intake.Options{}, fmt.Errorf("settings: no cover table is called %q", r.settings.Stands.CoverTable)
	}
	o := intake.DefaultOptions()
	o.Mapping, o.SkipLines = r.settings.Mapping(as.name, source)
	o.Quarter, o.CoverTable, o.Limits, o.CRS = r.out.Quarter, table, r.settings.Limits.Limits(), as.system
	o.Trial = r.trial
	return o, nil
}

// file adds a file's totals: read = accepted + rejected.
func (r *reader) file(f intake.File, role string, accepted int) {
	r.out.ColumnReports = append(r.out.ColumnReports, f)
	r.out.Files = append(r.out.Files, mapfile.File{
		Name: f.Name, Role: role, SHA256: f.SHA256, Bytes: f.Bytes,
		Read: f.Read, Accepted: accepted, Rejected: f.Read - accepted,
	})
	for _, part := range f.Parts {
		r.parts = append(r.parts, mapfile.File{Name: f.Name + " " + part.Ending, Role: role, SHA256: part.SHA256, Bytes: part.Bytes})
	}
}

// watch makes a source tell progress and end with the context.
func (r *reader) watch(s format.Source) format.Source {
	open := s.Open
	s.Open = func() (io.ReadCloser, error) {
		file, err := open()
		if err != nil {
			return nil, err
		}
		w := watched{ReadCloser: file, ctx: r.ctx, progress: r.host.progress()}
		if at, seeks := file.(io.ReaderAt); seeks {
			return &watchedAt{w, at}, nil
		}
		return &w, nil
	}
	return s
}

type watched struct {
	io.ReadCloser
	ctx      context.Context
	progress Progress
}

// watchedAt is a watched file that can be read anywhere, which ends with the
// context and tells no progress: its bytes were told when they were summed.
type watchedAt struct {
	watched
	at io.ReaderAt
}

// ReadAt implements io.ReaderAt.
func (w *watchedAt) ReadAt(p []byte, offset int64) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	return w.at.ReadAt(p, offset)
}

// Read implements io.Reader.
func (w *watched) Read(p []byte) (int, error) {
	if err := w.ctx.Err(); err != nil {
		return 0, err
	}
	n, err := w.ReadCloser.Read(p)
	w.progress.Bytes(int64(n))
	return n, err
}

func count[T any](all []T, is func(*T) bool) int {
	n := 0
	for i := range all {
		if is(&all[i]) {
			n++
		}
	}
	return n
}
