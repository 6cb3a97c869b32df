package batch

import (
	"context"
	"fmt"
	"io"
	"slices"

	"golang.org/x/sync/errgroup"

	"driftreach/geo"
	"driftreach/internal/check"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Inputs is what one quarter's batch is made from.
type Inputs struct {
	Points  []intake.Source
	Streams []intake.Source
	Works   []intake.Source // of planned works; none when nobody asks
	Quarter survey.Quarter
	// PointsCRS, StreamsCRS and WorksCRS are the reference systems of the files, as
	// earth.ParseCRS reads them; blank for what the files say.
	PointsCRS, StreamsCRS, WorksCRS string
}

// Read reads and checks the inputs. Everything the checks say is in the
// Observed's findings; the error is an *intake.UnusableError when nothing can
// be made of a file, or a cancelled context's. The answer depends on the set
// of records in all files, not on their order.
func Read(ctx context.Context, in Inputs, s Settings, h Host) (Observed, error) {
	done := h.progress().Stage("read inputs")
	defer done()
	points := reader{ctx: ctx, settings: s, host: h, out: Observed{Quarter: in.Quarter}}
	streams, works := points, points
	// the three need nothing of each other
	var tasks errgroup.Group
	tasks.SetLimit(h.workers())
	var failed [3]error
	tasks.Go(func() error { failed[0] = points.points(in); return nil })
	tasks.Go(func() error { failed[1] = streams.streams(in); return nil })
	tasks.Go(func() error { failed[2] = works.works(in); return nil })
	_ = tasks.Wait() // no task fails
	for _, err := range failed {
		if err != nil {
			return Observed{}, err
		}
	}
	r := points
	r.out.Centerlines = streams.out.Centerlines
	r.out.WorksGiven, r.out.Works = len(in.Works) > 0, works.out.Works
	for _, other := range []*reader{&streams, &works} {
		r.out.Findings = append(r.out.Findings, other.out.Findings...)
		r.out.Files = append(r.out.Files, other.out.Files...)
		r.out.Understood = append(r.out.Understood, other.out.Understood...)
	}
	r.out.Files = slices.Concat(r.out.Files, points.parts, streams.parts, works.parts)
	r.site()
	check.Sort(r.out.Findings)
	return r.out, nil
}

// reader gathers what is read.
type reader struct {
	ctx      context.Context
	settings Settings
	host     Host
	out      Observed
	parts    []mapfile.File // files that belong to those named, such as a Shapefile's table
}

func (r *reader) points(in Inputs) error {
	options, err := r.options(r.settings.Columns.Points, r.settings.Units.Points, in.Quarter)
	if err != nil {
		return err
	}
	options.CRS = in.PointsCRS
	files := make([]intake.Points, 0, len(in.Points))
	for _, source := range in.Points {
		file, findings, err := intake.ReadPoints(r.watch(source), options)
		if err != nil {
			return err
		}
		files = append(files, file)
		r.out.Findings = append(r.out.Findings, findings...)
	}
	records, extra := intake.MergePoints(files)
	rules := survey.DefaultOptions(in.Quarter)
	rules.JoinDistance, rules.Setback = geo.Meters(r.settings.Stands.JoinDistance), geo.Meters(r.settings.Aquatic.Setback)
	accepted, findings := survey.Check(records, rules)
	r.out.Records, r.out.ExtraColumns = accepted, extra
	r.out.Findings = append(r.out.Findings, findings...)
	for i := range files {
		n := count(accepted, func(rec *survey.Record) bool { return rec.File == files[i].Name })
		r.file(files[i].File, "points", n)
	}
	return nil
}

func (r *reader) streams(in Inputs) error {
	options, err := r.options(r.settings.Columns.Streams, r.settings.Units.Streams, in.Quarter)
	if err != nil {
		return err
	}
	options.CRS = in.StreamsCRS
	var files []intake.File
	var lines []stream.Centerline
	for _, source := range in.Streams {
		file, findings, err := intake.ReadStreams(r.watch(source), options)
		if err != nil {
			return err
		}
		files = append(files, file.File)
		lines = append(lines, file.Centerlines...)
		r.out.Findings = append(r.out.Findings, findings...)
	}
	accepted, findings := stream.Check(lines, stream.Options{})
	r.out.Centerlines = accepted
	r.out.Findings = append(r.out.Findings, findings...)
	for _, file := range files {
		n := count(accepted, func(l *stream.Centerline) bool { return l.File == file.Name })
		r.file(file, "streams", n)
	}
	return nil
}

// options says how a file is read, with the user's names for its columns.
func (r *reader) options(columns, units map[string]string, q survey.Quarter) (intake.Options, error) {
	table, ok := survey.FindCoverTable(r.settings.Stands.CoverTable)
	if !ok {
		return intake.Options{}, fmt.Errorf("settings: no cover table is called %q", r.settings.Stands.CoverTable)
	}
	o := intake.DefaultOptions()
	o.Mapping = intake.Mapping{Columns: columns, Values: r.settings.Values, Units: units}
	o.Quarter, o.CoverTable, o.Limits = q, table, r.settings.Limits.limits()
	return o, nil
}

// file adds a file's totals: read = accepted + rejected.
func (r *reader) file(f intake.File, role string, accepted int) {
	r.out.Understood = append(r.out.Understood, f)
	r.out.Files = append(r.out.Files, mapfile.File{
		Name: f.Name, Role: role, SHA256: f.SHA256, Bytes: f.Bytes,
		Read: f.Read, Accepted: accepted, Rejected: f.Read - accepted,
	})
	for _, part := range f.Parts {
		r.parts = append(r.parts, mapfile.File{Name: f.Name + " " + part.Ending, Role: role, SHA256: part.SHA256, Bytes: part.Bytes})
	}
}

// watch makes a source tell progress and end with the context.
func (r *reader) watch(s intake.Source) intake.Source {
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
