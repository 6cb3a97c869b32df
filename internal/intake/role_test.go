package intake

import (
	"slices"
	"strings"
	"testing"

	"driftreach/internal/check"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
	"driftreach/internal/work"
)

// TestRolesAreWhole: every role has what flags, settings, readers and documents need, and no two
// roles share a name.
func TestRolesAreWhole(t *testing.T) {
	var names []string
	for _, r := range Roles() {
		names = append(names, r.Name)
		if r.Is == "" || !strings.Contains(r.Help, "`FILE`") || r.Many != strings.Contains(r.Help, "repeatable") || len(r.Rules()) == 0 || r.records == nil {
			t.Errorf("%s is not whole", r.Name)
		}
		if r.Passing != "" && !slices.Contains(r.Fields(), r.Passing) {
			t.Errorf("%s: %s is no field", r.Name, r.Passing)
		}
		if other, ok := RoleOf(r.Name); !ok || other.Is != r.Is {
			t.Errorf("%s is not found by its name", r.Name)
		}
	}
	if got := strings.Join(names, " "); got != "points streams works units surveyed treatments barriers water corrections treatable values" {
		t.Error(got) // the order in manifests, which must not change
	}
	if _, ok := RoleOf("previous"); ok {
		t.Error("a folder is no role")
	}
}

// shelf holds works alone.
type shelf struct{ works []work.Work }

func (s *shelf) Slots() []any { return []any{&s.works} }

// TestRoleReads: a role's files are read, checked together and counted by file; check reports them
// by field. By hand.
func TestRoleReads(t *testing.T) {
	file := func(name, rows string) format.Source {
		return testkit.Source(name, strings.NewReader("work_id,kind,start_date,end_date,contact,decimalLongitude,decimalLatitude\n"+rows))
	}
	var held shelf
	taken, err := worksRole().Read(Given{
		Sources: []format.Source{file("a.csv", "w1,mow,2026-10-01,2026-10-09,Roads,10,20\nw2,,,,,0,0\n"), file("b.csv", "w1,mow,2026-10-01,2026-10-09,Roads,10,20\nw3,mowing,,,Parks,11,21\n")},
		Options: func(format.Source) (Options, error) {
			o := DefaultOptions()
			o.Mapping.Values = map[string]map[string]string{"kind": {"mow": "mowing"}}
			return o, nil
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	taken.Put(&held)
	if !slices.Equal(taken.Accepted, []int{1, 1}) || taken.Files[0].Read != 2 || len(held.works) != 2 || held.works[0].ID != "w1" || held.works[1].ID != "w3" {
		t.Errorf("%v %+v", taken.Accepted, held.works)
	}
	var codes []string
	for _, f := range check.Join(taken.Findings...) {
		if f.Rule.Severity == check.Error {
			codes = append(codes, f.File+" "+f.Record+" "+f.Rule.Code)
		}
	}
	if got := strings.Join(codes, ", "); got != "a.csv w2 work-null-island, b.csv w1 work-duplicate" {
		t.Error(got)
	}
	for field, want := range map[string]string{"kind": "mowing", "end_date": "2026-10-09", "decimalLongitude": "10", "contact": "Roads", "nothing": ""} {
		var got []string
		worksRole().Values(&held, "a.csv", field, func(value string) { got = append(got, value) })
		if !slices.Equal(got, []string{want}) {
			t.Errorf("%s: %q, want %q", field, got, want)
		}
	}
}

// TestKindsOfGeometry: findings, and the list of findings, state the geometries that an input
// really accepts.
func TestKindsOfGeometry(t *testing.T) {
	for _, c := range []struct {
		role, kind, want string
	}{
		{RoleStreams, "Point", "give the input as LineString or MultiLineString"},
		{RoleWater, "MultiPoint", "give the input as Polygon or MultiPolygon"},
		{RoleBarriers, "Point", ""},
	} {
		places := map[string]string{"Point": "[1,2]", "MultiPoint": "[[1,2],[3,4]]"}[c.kind]
		text := `{"type":"Feature","properties":{},"geometry":{"type":"` + c.kind + `","coordinates":` + places + `}}`
		good := `{"type":"Feature","properties":{},"geometry":{"type":"MultiPolygon","coordinates":[[[[1,2],[2,2],[2,3],[1,2]]]]}}`
		if c.role == RoleStreams {
			good = `{"type":"Feature","properties":{},"geometry":{"type":"LineString","coordinates":[[1,2],[2,3]]}}`
		}
		r, _ := RoleOf(c.role)
		taken, err := r.Read(Given{
			Sources: []format.Source{testkit.Source("f", strings.NewReader(text+"\n"+good+"\n"))},
			Options: func(format.Source) (Options, error) { return DefaultOptions(), nil },
		})
		if err != nil {
			t.Fatalf("%s: %v", c.role, err)
		}
		got := ""
		for _, f := range check.Join(taken.Findings...) {
			if f.Rule.Code == "geometry-kind" {
				got = f.Rule.Remedy
			}
		}
		if got != c.want {
			t.Errorf("%s, a %s: %q, want %q", c.role, c.kind, got, c.want)
		}
	}
	said := kindsOfRoles()
	for _, r := range Roles() {
		if one := r.Name + " as " + r.shapes.String(); len(r.shapes) > 0 && !strings.Contains(said, one) || len(r.shapes) == 0 && r.System != "" {
			t.Errorf("%s: %q is not in %q", r.Name, one, said)
		}
	}
}
