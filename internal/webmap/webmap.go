// Package webmap writes map.html: the map as one page that a browser opens from disk.
// It holds its own small program and all that it draws, and asks nothing of any
// network.
package webmap

import (
	_ "embed" // the page's sources
	"encoding/json"
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
	// the encoder writes <, > and & as escapes, so that no text ends the element
	data, err := json.Marshal(gather(run))
	if err != nil {
		return err
	}
	title := "Map of stands and stream at risk, " + run.Quarter.String()
	_, err = strings.NewReplacer(
		"{{title}}", html.EscapeString(title), "{{style}}", style, "{{data}}", string(data),
		"{{script}}", viewScript+drawScript+panelScript,
	).WriteString(w, page)
	return err
}
