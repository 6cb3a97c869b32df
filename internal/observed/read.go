package observed

import (
	"context"
	"fmt"
	"io"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/host"
	"driftreach/internal/intake"
	"driftreach/internal/mapfile"
	"driftreach/internal/settings"
	"driftreach/internal/survey"
)

// Inputs is what one quarter's batch is made from. All roles but points and streams
// are optional.
type Inputs struct {
	Of      map[string]Files // by role
	Quarter survey.Quarter
	After   survey.Quarter // of the batch before: evidence begins after it; zero for none
	// Trial reads on past what would stop the batch; each file tells of it.
	Trial bool
}

// Files are the files of one role.
type Files struct {
	Sources []format.Source
	System  string // their reference system, as earth.ParseCRS reads it; blank for what they say
}

// Sources returns every file of the inputs.
func (in Inputs) Sources() []format.Source {
	var all []format.Source
	for _, role := range intake.Roles() {
		all = append(all, in.Of[role.Name].Sources...)
	}
	return all
}

// Read reads and checks the inputs. Everything the checks say is in the
// Observed's findings; the error is an *intake.UnusableError when nothing can
// be made of a file, or a cancelled context's. The answer depends on the set
// of records in all files, not on their order.
func Read(ctx context.Context, in Inputs, s settings.Settings, h host.Host) (Quarter, error) {
	done := h.Listener().Stage("read inputs")
	defer done()
	r := &reader{ctx: ctx, settings: s, host: h, inputs: in}
	r.out.Quarter = in.Quarter
	roles := intake.Roles()
	taken, failed := make([]intake.Taken, len(roles)), make([]error, len(roles))
	// they need nothing of each other
	var group parallel.Group
	group.SetLimit(h.Goroutines())
	for i, role := range roles {
		group.Go(func() error { taken[i], failed[i] = role.Read(r.given(role)); return nil })
	}
	_ = group.Wait() // no task fails
	for _, err := range failed {
		if err != nil {
			return Quarter{}, err
		}
	}
	for i := range roles {
		r.take(roles[i].Name, &taken[i])
	}
	r.out.Files = append(r.out.Files, r.parts...)
	r.site()
	if len(in.Of[intake.RoleStreams].Sources) > 0 {
		r.placeBarriers()
	}
	r.out.Findings = check.Join(append(r.told, s.Removed)...)
	return r.out, nil
}

// reader gathers what is read.
type reader struct {
	ctx      context.Context
	settings settings.Settings
	host     host.Host
	inputs   Inputs
	out      Quarter           // its findings stand in told until all is read
	told     [][]check.Finding // what each check found
	parts    []mapfile.File    // files that belong to those named, such as a Shapefile's table
}

// given is what a role is read from and checked against.
func (r *reader) given(role intake.Role) intake.Given {
	files := r.inputs.Of[role.Name]
	g := intake.Given{
		Sources: make([]format.Source, len(files.Sources)),
		Options: func(s format.Source) (intake.Options, error) { return r.options(role.Name, files.System, s) },
		Against: intake.Against{
			Quarter: r.inputs.Quarter, First: r.inputs.firstDay(r.settings),
			JoinDistance: geo.Meters(r.settings.Stands.JoinDistance), Setback: geo.Meters(r.settings.Aquatic.Setback),
			LargestPatch: geo.SquareMeters(r.settings.Survey.LargestPatch),
		},
	}
	for i, source := range files.Sources {
		g.Sources[i] = r.watch(source)
	}
	return g
}

// take takes what was read of a role.
func (r *reader) take(role string, t *intake.Taken) {
	t.Put(&r.out)
	r.told = append(r.told, t.Findings...)
	for i := range t.Files {
		r.file(t.Files[i], role, t.Accepted[i])
	}
	given := len(t.Files) > 0
	switch role {
	case intake.RolePoints:
		r.out.ExtraColumns, r.out.Dated = t.Points.Extra, t.Points.Dated
		r.out.SetAside(t.Points.Aside)
	case intake.RoleWorks:
		r.out.WorksGiven = given
	case intake.RoleSurveyed:
		r.out.SurveyedGiven = given
	case intake.RoleTreatments:
		r.out.WorkGiven, r.out.WorkFirst = given, r.inputs.firstDay(r.settings)
	}
}

// Slots returns the addresses of the records of every role: what its readers fill,
// and check shows.
func (o *Quarter) Slots() []any {
	return []any{&o.Records, &o.Centerlines, &o.Works, &o.Units, &o.Surveyed, &o.Actions, &o.Barriers, &o.Water, &o.Corrections, &o.Treatable, &o.Valued}
}

// setAside adds what was set aside of each file of points to its totals, and
// counts again what is accepted.
func (o *Quarter) SetAside(aside []survey.Aside) {
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

func (r *reader) found(findings []check.Finding) { r.told = append(r.told, findings) }

// options says how a file is read, with the user's names for its columns.
func (r *reader) options(role, system string, source format.Source) (intake.Options, error) {
	table, ok := survey.FindCoverTable(r.settings.Stands.CoverTable)
	if !ok {
		return intake.Options{}, fmt.Errorf("settings: no cover table is called %q", r.settings.Stands.CoverTable)
	}
	o := intake.DefaultOptions()
	o.Mapping, o.SkipLines = r.settings.Mapping(role, source)
	o.Quarter, o.CoverTable, o.Limits, o.CRS = r.inputs.Quarter, table, r.settings.Limits.Limits(), system
	o.Trial = r.inputs.Trial
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
		w := watched{ReadCloser: file, ctx: r.ctx, progress: r.host.Listener()}
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
	progress host.Progress
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
