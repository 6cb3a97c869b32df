package observed

import (
	"context"
	"fmt"

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

// Read reads and checks the inputs. The results of the checks are in Findings. The error is an
// *intake.UnusableError if a file cannot be used, or that of a cancelled context. The result depends on
// the set of records in all files, not on their order.
func Read(ctx context.Context, in Inputs, s settings.Settings, h host.Host) (Quarter, error) {
	done := h.Listener().Stage("read inputs")
	defer done()
	r := &reader{ctx: ctx, settings: s, host: h, inputs: in}
	r.out.Quarter = in.Quarter
	roles := intake.Roles()
	taken, failed := make([]intake.Taken, len(roles)), make([]error, len(roles))
	// the two are independent
	var group parallel.Group
	group.SetLimit(h.Goroutines())
	for i, role := range roles {
		group.Go(func() error { taken[i], failed[i] = role.Read(r.given(role)); return nil })
	}
	_ = group.Wait() // no task returns an error
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

// given returns the sources of a role and what they are checked against.
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

// take stores what was read for a role.
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

// options returns how a file is read, including the user's names for its columns.
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

// file adds the totals of a file: read = accepted + rejected.
func (r *reader) file(f intake.File, role string, accepted int) {
	r.out.ColumnReports = append(r.out.ColumnReports, f)
	file, parts := listed(&f, role)
	file.Accepted, file.Rejected = accepted, f.Read-accepted
	r.out.Files, r.parts = append(r.out.Files, file), append(r.parts, parts...)
}

// listed returns a file and its parts as a manifest lists them, without what was accepted.
func listed(f *intake.File, role string) (file mapfile.File, parts []mapfile.File) {
	for _, part := range f.Parts {
		parts = append(parts, mapfile.File{Name: f.Name + " " + part.Ending, Role: role, SHA256: part.SHA256, Bytes: part.Bytes})
	}
	return mapfile.File{Name: f.Name, Role: role, SHA256: f.SHA256, Bytes: f.Bytes, Read: f.Read}, parts
}
