// Package webmap writes map.html: the map as one page that a browser opens from disk.
// It holds its own small program and all that it draws, and asks nothing of any
// network.
package webmap

import (
	_ "embed" // the page's sources
	"html"
	"io"
	"strings"

	"driftreach/internal/result"
)

// The page's sources.
var (
	//go:embed page.html
	page string
	//go:embed page.css
	style string
	//go:embed view.js
	viewScript string
	//go:embed draw.js
	drawScript string
	//go:embed panel.js
	panelScript string
)

// FileName is what the page is called in a batch.
const FileName = "map.html"

// Write writes map.html. It needs no network and no other file. Places are those of the
// other layers, to a tenth of a metre, lines and outlines thinned to half a metre; colours
// and legend are those of map.kmz. Cost and size go with what is drawn.
func Write(w io.Writer, run *result.Run) error {
	title := "Map of stands and stream at risk, " + run.Quarter.String()
	head, foot, _ := strings.Cut(page, "{{data}}")
	filled := strings.NewReplacer("{{title}}", html.EscapeString(title), "{{style}}", style, "{{script}}", viewScript+drawScript+panelScript)
	if _, err := filled.WriteString(w, head); err != nil {
		return err
	}
	o := newObject(w)
	g := gatherer{run: run, grid: newGrid(run), signs: map[string]int{}, rule: map[string]int{}}
	g.write(o)
	if err := o.end(); err != nil {
		return err
	}
	_, err := filled.WriteString(w, foot)
	return err
}
