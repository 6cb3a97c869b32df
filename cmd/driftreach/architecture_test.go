package main

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// layer is a package in the figure of DEVELOPERS.md: its row, counted from the bottom, and the
// third-party modules it may import.
type layer struct {
	row   int
	third []string
}

// picture is the figure of DEVELOPERS.md as a table. Arrows point down: a package imports rows
// below its own, and its own subfolders.
var picture = map[string]layer{
	"cmd/driftreach":      {17, []string{"github.com/spf13/pflag", "golang.org/x/term"}},
	"internal/batch":      {16, []string{orbModule}},
	"internal/learn":      {16, []string{orbModule}},
	"internal/restated":   {15, []string{orbModule}},
	"internal/observed":   {14, []string{orbModule}},
	"internal/earlier":    {13, []string{orbModule, "golang.org/x/sync"}},
	"internal/demo":       {13, []string{orbModule}},
	"internal/verify":     {12, []string{orbModule, "modernc.org/sqlite"}},
	"internal/webmap":     {12, []string{orbModule}},
	"internal/public":     {11, []string{orbModule}},
	"internal/mapfile":    {11, []string{orbModule, "github.com/twpayne/go-kml/v3", "modernc.org/sqlite", "github.com/klauspost/compress"}},
	"internal/report":     {11, []string{orbModule}},
	"internal/result":     {10, []string{orbModule}},
	"internal/settings":   {10, []string{"github.com/pelletier/go-toml/v2"}},
	"internal/allocate":   {9, []string{orbModule}},
	"internal/stretch":    {9, []string{orbModule}},
	"internal/notice":     {9, []string{orbModule}},
	"internal/priority":   {9, nil},
	"internal/crew":       {9, nil},
	"internal/plan":       {9, []string{orbModule}},
	"internal/part":       {9, []string{orbModule}},
	"internal/followup":   {9, []string{orbModule}},
	"internal/trend":      {9, nil},
	"internal/aquatic":    {8, []string{orbModule}},
	"internal/drift":      {8, []string{orbModule}},
	"internal/margin":     {8, nil},
	"internal/lineage":    {8, []string{orbModule, "github.com/tidwall/rtree"}},
	"internal/stand":      {7, []string{orbModule}},
	"internal/intake":     {6, []string{orbModule}},
	"internal/column":     {5, []string{"golang.org/x/text"}},
	"internal/cell":       {4, nil},
	"internal/format":     {3, []string{orbModule, "golang.org/x/text", "modernc.org/sqlite", "github.com/klauspost/compress"}},
	"internal/survey":     {3, []string{orbModule}},
	"internal/work":       {3, []string{orbModule}},
	"internal/unit":       {3, []string{orbModule}},
	"internal/surveyed":   {3, []string{orbModule}},
	"internal/treatment":  {3, []string{orbModule}},
	"internal/correction": {3, nil},
	"internal/treatable":  {3, nil},
	"internal/valued":     {3, []string{orbModule}},
	"internal/stream":     {3, []string{orbModule}},
	"internal/folder":     {3, []string{"golang.org/x/sync"}},
	"internal/field":      {2, nil},
	"internal/estimate":   {2, nil},
	"internal/check":      {2, []string{orbModule}},
	"internal/host":       {3, nil},
	"internal/spill":      {3, nil},
	"internal/disk":       {2, []string{"golang.org/x/sys"}},
	"geo/shape":           {1, []string{orbModule, "github.com/peterstace/simplefeatures", "github.com/tidwall/rtree"}},
	"geo/linear":          {1, []string{orbModule, "github.com/tidwall/rtree"}},
	"geo/flow":            {1, []string{orbModule}},
	"geo/cluster":         {1, nil},
	"geo/earth":           {1, []string{orbModule}},
	"geo/knapsack":        {1, nil},
	"geo":                 {0, []string{orbModule}},
	"geo/parallel":        {0, []string{"golang.org/x/sync"}},
	"geo/disjoint":        {0, nil},
	"geo/cells":           {0, []string{orbModule}},
	"internal/testkit":    {18, []string{orbModule, "github.com/arran4/golang-ical", "modernc.org/sqlite", "github.com/google/go-cmp"}}, // above all: only tests import it
}

const orbModule = "github.com/paulmach/orb"

// sideways lists the imports within a row that the figure allows: networks and lines are measured
// on the ellipsoid.
var sideways = map[string]string{"geo/flow": "geo/earth", "geo/linear": "geo/earth"}

// source is one Go file of the module.
type source struct {
	path string // from the module's top
	dir  string
	set  *token.FileSet
	file *ast.File
	test bool
}

const top = "../.."

func sources(t *testing.T) []source {
	t.Helper()
	var all []source
	err := filepath.WalkDir(top, func(at string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if entry.IsDir() && at != top && (strings.HasPrefix(entry.Name(), ".") || entry.Name() == "testdata" || entry.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if entry.IsDir() || filepath.Ext(at) != ".go" {
			return nil
		}
		name, err := filepath.Rel(top, at)
		if err != nil {
			return err
		}
		name = filepath.ToSlash(name)
		set := token.NewFileSet()
		file, err := parser.ParseFile(set, at, nil, parser.ParseComments|parser.SkipObjectResolution)
		all = append(all, source{name, path.Dir(name), set, file, strings.HasSuffix(name, "_test.go")})
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// layerOf returns the package of the figure that contains dir.
func layerOf(dir string) (string, layer, bool) {
	for d := dir; d != "."; d = path.Dir(d) {
		if l, ok := picture[d]; ok && (d == dir || d != "geo") {
			return d, l, true
		}
	}
	return "", layer{}, false
}

func TestArrowsOnlyGoDown(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range sources(t) {
		if strings.HasPrefix(s.dir, "scripts") {
			continue
		}
		name, own, ok := layerOf(s.dir)
		if !ok {
			t.Errorf("%s is not in the picture", s.dir)
			continue
		}
		seen[name] = true
		for _, spec := range s.file.Imports {
			if problem := arrow(s, name, own, strings.Trim(spec.Path.Value, `"`)); problem != "" {
				t.Errorf("%s: %s", s.path, problem)
			}
		}
	}
	for name := range picture {
		if !seen[name] {
			t.Errorf("the picture shows %s, which is not there", name)
		}
	}
}

// arrow returns what is wrong with an import, blank if it is allowed. Tests may import within their
// row and use any module, but geometry never imports the program.
func arrow(s source, name string, own layer, imported string) string {
	target, inside := strings.CutPrefix(imported, "driftreach/")
	if !inside {
		if s.test || !strings.Contains(strings.Split(imported, "/")[0], ".") || ofModules(imported, own.third) {
			return ""
		}
		return imported + " is not a module of its row"
	}
	other, its, ok := layerOf(target)
	switch {
	case !ok:
		return target + " is not in the picture"
	case strings.HasPrefix(name, "geo") && !strings.HasPrefix(other, "geo"):
		return "geometry looks up at " + target
	case s.test || name == other || its.row < own.row || sideways[name] == target:
		return ""
	}
	return "the arrow to " + target + " does not go down"
}

func ofModules(imported string, modules []string) bool {
	return slices.ContainsFunc(modules, func(m string) bool { return imported == m || strings.HasPrefix(imported, m+"/") })
}

// The figure in DEVELOPERS.md and the table above are the same.
func TestPictureInDevelopersIsTheTable(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	var drawn []string
	row := map[string]int{}
	at := 0
	for i, line := range strings.Split(string(text), "\n") {
		fields := strings.Fields(line)
		if len(fields) == 0 || !strings.HasPrefix(line, "    ") {
			continue
		}
		if _, more := picture[fields[0]]; !more { // else the row above continues here
			if len(fields) < 2 || len(fields[0]) > 2 {
				continue
			}
			at = i
		}
		for _, f := range fields {
			if _, ok := picture[f]; ok {
				drawn = append(drawn, f)
				row[f] = -at
			}
		}
	}
	for name := range picture {
		if !slices.Contains(drawn, name) {
			t.Errorf("DEVELOPERS.md does not draw %s", name)
		}
		for other := range picture {
			if (picture[name].row < picture[other].row) != (row[name] < row[other]) {
				t.Errorf("DEVELOPERS.md draws %s and %s in another order than the table", name, other)
			}
		}
	}
}

func TestFilesAndFunctionsStayShort(t *testing.T) {
	const maxFile, maxFunction = 500, 80
	for _, s := range sources(t) {
		if n := s.set.File(s.file.Pos()).LineCount(); n > maxFile {
			t.Errorf("%s has %d lines, more than %d", s.path, n, maxFile)
		}
		for _, d := range s.file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			if n := s.set.Position(f.End()).Line - s.set.Position(f.Pos()).Line + 1; n > maxFunction {
				t.Errorf("%s: %s has %d lines, more than %d", s.path, f.Name.Name, n, maxFunction)
			}
		}
	}
}

func TestNoPackageOrFileIsADrawer(t *testing.T) {
	drawers := []string{"util", "utils", "helper", "helpers", "common", "misc", "types"}
	for _, s := range sources(t) {
		file := strings.TrimSuffix(strings.TrimSuffix(path.Base(s.path), ".go"), "_test")
		for _, name := range []string{s.file.Name.Name, file, path.Base(s.dir)} {
			if slices.Contains(drawers, name) {
				t.Errorf("%s: %q says nothing of what is in it", s.path, name)
			}
		}
	}
}

// Spherical areas are up to 0.67 % wrong, and the default buffer of the polygon library is wrong
// without an error: each may be called in one place or nowhere.
func TestTrapsStayShut(t *testing.T) {
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		for _, spec := range s.file.Imports {
			imported := strings.Trim(spec.Path.Value, `"`)
			if imported == orbModule+"/geo" || imported == orbModule+"/planar" {
				t.Errorf("%s imports %s: areas and distances are geo's, on the ellipsoid", s.path, imported)
			}
			if strings.HasPrefix(imported, "github.com/peterstace") && s.dir != "geo/shape" {
				t.Errorf("%s imports %s: geo/shape is its only door", s.path, imported)
			}
		}
	}
}

// The program does no geometry of its own, and geometry does not mention plants. Code for pictures,
// the invented country and the map's icons computes no figures and is exempt.
func TestGeometryAndProgrammeStayApart(t *testing.T) {
	trigonometry := []string{"Sin", "Cos", "Tan", "Atan", "Atan2", "Asin", "Acos", "Sincos"}
	draws := []string{"internal/demo", "internal/mapfile"}
	programme := []string{"plant", "canopy", "infest", "herbicide", "fragment"}
	for _, s := range sources(t) {
		if s.test {
			continue
		}
		ast.Inspect(s.file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.SelectorExpr:
				x, ok := n.X.(*ast.Ident)
				statistics := s.dir == "internal/trend" && n.Sel.Name == "Asin" // of a correlation
				if ok && x.Name == "math" && !statistics && slices.Contains(trigonometry, n.Sel.Name) &&
					strings.HasPrefix(s.dir, "internal/") && !slices.Contains(draws, s.dir) {
					t.Errorf("%s: math.%s is geometry", s.set.Position(n.Pos()), n.Sel.Name)
				}
			case *ast.Ident:
				for _, word := range programme {
					if strings.HasPrefix(s.dir, "geo") && strings.Contains(strings.ToLower(n.Name), word) {
						t.Errorf("%s: %s is of the programme", s.set.Position(n.Pos()), n.Name)
					}
				}
			}
			return true
		})
	}
}

func TestEveryExportedThingIsDescribed(t *testing.T) {
	for _, s := range sources(t) {
		if s.test || s.file.Name.Name == "main" {
			continue
		}
		for _, d := range s.file.Decls {
			switch d := d.(type) {
			case *ast.FuncDecl:
				if d.Name.IsExported() && d.Doc == nil && exportedReceiver(d) {
					t.Errorf("%s: %s has no comment", s.set.Position(d.Pos()), d.Name.Name)
				}
			case *ast.GenDecl:
				for _, spec := range d.Specs {
					if is, ok := spec.(*ast.TypeSpec); ok && is.Name.IsExported() && d.Doc == nil && is.Doc == nil {
						t.Errorf("%s: %s has no comment", s.set.Position(is.Pos()), is.Name.Name)
					}
				}
			}
		}
	}
}

func exportedReceiver(d *ast.FuncDecl) bool {
	if d.Recv == nil {
		return true
	}
	kind := d.Recv.List[0].Type
	if star, ok := kind.(*ast.StarExpr); ok {
		kind = star.X
	}
	if generic, ok := kind.(*ast.IndexExpr); ok {
		kind = generic.X
	}
	name, ok := kind.(*ast.Ident)
	return !ok || name.IsExported()
}
