package main

import (
	"fmt"
	"go/ast"
	"go/build"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// change is one piece of a source file replaced by another text.
type change struct {
	path       string // of the file, from the module's top
	begin, end int    // byte offsets
	line       int
	text       string // the original line
	before     string // the original text
	after      string // the new text
}

func (c change) String() string {
	return fmt.Sprintf("%s:%d: %s -> %s in: %s", c.path, c.line, oneLine(c.before), oneLine(c.after), c.text)
}

// key identifies a change by its content, so that lines added above it do not matter.
func (c change) key() string {
	return strings.Join([]string{c.path, c.text, oneLine(c.before) + " -> " + oneLine(c.after)}, "\t")
}

// code returns a line of source without the comment at its end.
func code(line string) string {
	before, _, _ := strings.Cut(line, " // ")
	return strings.TrimSpace(before)
}

func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if s == "" {
		return "nothing"
	}
	return s
}

// changesOf lists the possible changes in a package's files, in order, except in tests and files
// for other systems.
func changesOf(dir string) ([]change, error) {
	files, err := filepath.Glob(filepath.Join(dir, "*.go"))
	if err != nil {
		return nil, err
	}
	var all []change
	for _, path := range files {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		if built, err := build.Default.MatchFile(filepath.Split(path)); err != nil || !built {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return nil, err
		}
		of, err := changesIn(path, text)
		if err != nil {
			return nil, err
		}
		all = append(all, of...)
	}
	return all, nil
}

// finder collects the changes of one file.
type finder struct {
	path  string
	text  []byte
	set   *token.FileSet
	lines []string
	found []change
}

func changesIn(path string, text []byte) ([]change, error) {
	f := finder{path: path, text: text, set: token.NewFileSet(), lines: strings.Split(string(text), "\n")}
	file, err := parser.ParseFile(f.set, path, text, parser.SkipObjectResolution)
	if err != nil {
		return nil, err
	}
	for _, d := range file.Decls {
		switch d := d.(type) {
		case *ast.FuncDecl:
			if d.Body != nil {
				ast.Inspect(d.Body, f.visit)
				f.results(d)
			}
		case *ast.GenDecl:
			if d.Tok == token.CONST || d.Tok == token.VAR {
				ast.Inspect(d, f.visit)
			}
		}
	}
	return f.found, nil
}

// put adds the replacement of a node by other text.
func (f *finder) put(begin, end token.Pos, after string) {
	at := f.set.Position(begin)
	from, to := at.Offset, f.set.Position(end).Offset
	f.found = append(f.found, change{f.path, from, to, at.Line, strings.TrimSpace(f.lines[at.Line-1]), string(f.text[from:to]), after})
}

// operators are the replacements for each operator.
var operators = map[token.Token][]string{
	token.LSS: {"<=", ">="}, token.LEQ: {"<", ">"}, token.GTR: {">=", "<="}, token.GEQ: {">", "<"},
	token.EQL: {"!="}, token.NEQ: {"=="}, token.LAND: {"||"}, token.LOR: {"&&"},
	token.ADD: {"-"}, token.SUB: {"+"}, token.MUL: {"/"}, token.QUO: {"*"}, token.REM: {"*"},
	token.ADD_ASSIGN: {"-="}, token.SUB_ASSIGN: {"+="}, token.MUL_ASSIGN: {"/="}, token.QUO_ASSIGN: {"*="},
}

// calls are the replacements for function names.
var calls = map[string]string{"min": "max", "max": "min", "math.Floor": "math.Ceil", "math.Ceil": "math.Floor", "math.Sin": "math.Cos", "math.Cos": "math.Sin"}

// visit adds the changes of one node. It leaves messages and panics unchanged.
func (f *finder) visit(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.BinaryExpr:
		for _, o := range operators[n.Op] {
			f.put(n.OpPos, n.OpPos+token.Pos(len(n.Op.String())), o)
		}
	case *ast.BasicLit:
		if after := f.otherNumber(n); after != "" {
			f.put(n.Pos(), n.End(), after)
		}
	case *ast.CallExpr:
		name := f.textOf(n.Fun)
		if other := calls[name]; other != "" {
			f.put(n.Fun.Pos(), n.Fun.End(), other)
		}
		// only the sign of an infinity is used, and only -1 is below 0
		return name != "panic" && name != "fmt.Errorf" && name != "errors.New" && name != "math.Inf"
	case *ast.IfStmt:
		switch n.Cond.(type) {
		case *ast.BinaryExpr: // changed through its operator
		default:
			f.put(n.Cond.Pos(), n.Cond.End(), "!("+f.textOf(n.Cond)+")")
		}
	case *ast.AssignStmt:
		for _, o := range operators[n.Tok] {
			f.put(n.TokPos, n.TokPos+token.Pos(len(n.Tok.String())), o)
		}
		if n.Tok != token.DEFINE {
			f.put(n.Pos(), n.End(), "")
		}
	case *ast.IncDecStmt:
		f.put(n.Pos(), n.End(), "")
	case *ast.ExprStmt:
		f.put(n.Pos(), n.End(), "")
	case *ast.BranchStmt:
		if n.Tok == token.CONTINUE || n.Tok == token.BREAK {
			f.put(n.Pos(), n.End(), "")
		}
	case *ast.ImportSpec, *ast.FuncType:
		return false
	}
	return true
}

// results adds, for a function that returns one number or bool, a zero result and the opposite.
func (f *finder) results(d *ast.FuncDecl) {
	if d.Type.Results.NumFields() != 1 {
		return
	}
	of := f.textOf(d.Type.Results.List[0].Type)
	ast.Inspect(d.Body, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.FuncLit:
			return false
		case *ast.ReturnStmt:
			if len(n.Results) != 1 {
				return true
			}
			r := n.Results[0]
			if of == "bool" {
				f.put(r.Pos(), r.End(), "!("+f.textOf(r)+")")
			} else if of != "string" && of != "error" && f.textOf(r) != "0" { // a zero that is not a number would not compile
				f.put(r.Pos(), r.End(), "0*("+f.textOf(r)+")")
			}
		}
		return true
	})
}

// otherNumber returns an integer plus one, or another number plus a tenth of it.
func (f *finder) otherNumber(n *ast.BasicLit) string {
	switch n.Kind {
	case token.INT:
		if v, err := strconv.ParseInt(n.Value, 0, 64); err == nil {
			return strconv.FormatInt(v+1, 10)
		}
	case token.FLOAT:
		if v, err := strconv.ParseFloat(n.Value, 64); err == nil && v != 0 {
			return strconv.FormatFloat(1.1*v, 'g', -1, 64)
		}
		return "1.0"
	}
	return ""
}

func (f *finder) textOf(n ast.Node) string {
	return string(f.text[f.set.Position(n.Pos()).Offset:f.set.Position(n.End()).Offset])
}
