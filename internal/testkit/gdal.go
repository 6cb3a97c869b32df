// Package testkit is what tests of several packages share. Nothing else imports it.
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

// python is Debian's, for which its packages put the reference programs' bindings.
const python = "/usr/bin/python3"

// translator runs GDAL's ogr2ogr (its bindings: gdal.VectorTranslate) for each line
// of its input, a list of target, source and options, and answers with a line: the
// trouble it had, or none.
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

// gdal is one running translator. A program started for each file takes forty times
// as long as the file does.
type gdal struct {
	mu      sync.Mutex
	in      io.WriteCloser
	answers *bufio.Reader
	err     error
}

// start starts the translator, once; it ends with the test's own process.
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

// ask has the translator do one thing and returns the trouble it had.
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

// Translate has GDAL write the layers of one file to another, with options as those
// of ogr2ogr: by one program that does all of a test's files where its bindings for
// Python are installed (Debian: python3-gdal), else by ogr2ogr for each.
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
