// Package testkit has code shared by the tests of several packages. Only tests import it.
package testkit

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"slices"
	"sync"
	"testing"
)

// python is Debian's Python, for which its packages install the bindings of the reference programs.
const python = "/usr/bin/python3"

// translator runs GDAL's ogr2ogr (its bindings: gdal.VectorTranslate) for each line of its input, a
// list of target, source and options. It answers each with a line: the error, or a blank line.
const translator = `
import json, sys
from osgeo import gdal
gdal.UseExceptions()
gdal.SetErrorHandler("CPLQuietErrorHandler")
print(json.dumps("ready"), flush=True)
for line in sys.stdin:
    target, source, *options = json.loads(line)
    said = ""
    try:
        if gdal.VectorTranslate(target, source, options=options) is None:
            said = gdal.GetLastErrorMsg() or "nothing was written"
    except Exception as error:
        said = str(error) or repr(error)
    print(json.dumps(said), flush=True)
`

// gdal is one running translator. Starting a program for each file would take forty times as long as
// the file itself.
type gdal struct {
	mu      sync.Mutex
	in      io.WriteCloser
	answers *bufio.Reader
	err     error
}

// start starts the translator, once. It ends with the test process.
var start = sync.OnceValue(func() *gdal {
	g := new(gdal)
	command := exec.Command(python, "-c", translator)
	out, err := command.StdoutPipe()
	if err == nil {
		g.in, err = command.StdinPipe()
	}
	if err == nil {
		err = command.Start()
	}
	if err == nil {
		g.answers = bufio.NewReader(out)
		_, err = g.answers.ReadBytes('\n')
	}
	g.err = err
	return g
})

// ask lets the translator do one job and returns its error text.
func (g *gdal) ask(line []string) (string, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	text, err := json.Marshal(line)
	if err != nil {
		return "", err
	}
	if _, err := fmt.Fprintf(g.in, "%s\n", text); err != nil {
		return "", err
	}
	answer, err := g.answers.ReadBytes('\n')
	if err != nil {
		return "", err
	}
	var said string
	err = json.Unmarshal(answer, &said)
	return said, err
}

// NeedGDAL skips a test where GDAL is not installed.
func NeedGDAL(t testing.TB) {
	t.Helper()
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		t.Skip("ogr2ogr is not installed (Debian: gdal-bin): files are not exchanged with GDAL")
	}
}

// Translate lets GDAL write the layers of one file to another, with the options of ogr2ogr. If its
// Python bindings are installed (Debian: python3-gdal), one program does all files of a test; otherwise
// ogr2ogr runs for each.
func Translate(t testing.TB, target, source string, options ...string) {
	t.Helper()
	if g := start(); g.err == nil {
		said, err := g.ask(slices.Concat([]string{target, source}, options))
		if err != nil || said != "" {
			t.Fatalf("GDAL, %s to %s: %s %v", source, target, said, err)
		}
		return
	}
	if out, err := exec.Command("ogr2ogr", slices.Concat(options, []string{target, source})...).CombinedOutput(); err != nil {
		t.Fatalf("ogr2ogr, %s to %s: %v: %s", source, target, err, out)
	}
}
