// Package webmap writes map.html: the map as a single page that a browser opens from disk. The page
// contains its own small script and all its data, and requests nothing from a network.
package webmap

import (
	_ "embed" // for the parts of the page
	"html"
	"io"
	"strings"

	"driftreach/internal/result"
)

// The parts of the page.
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

// FileName is the page's file name in a batch.
const FileName = "map.html"

// Write writes map.html, which needs no network and no other file. Positions are those of the other
// layers, to a tenth of a metre; lines and outlines are simplified to half a metre. Colours and legend
// are those of map.kmz. Cost and size are proportional to what is drawn.
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
