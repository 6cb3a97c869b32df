// Package mapfile writes a batch's deliverables, one writer each, from the
// run's answer and the data dictionary. Writers stream, read no clock and give
// the same bytes for any worker count.
package mapfile

import (
	"io"

	"driftreach/internal/result"
)

// Deliverable is one thing that a batch hands over: a file, or several that belong
// together.
type Deliverable struct {
	Role  string // what it is, a few words
	Write func(to Folder, run *result.Run, workers int) error
}

// Folder is where a deliverable writes its files.
type Folder interface {
	// Write makes the file name, which holds so many records, from what write sends.
	// The name is from the folder's top with forward slashes, so that files may lie in
	// a subfolder. A file may be written from within the writing of another, where
	// both are made in one pass.
	Write(name string, records int, write func(io.Writer) error) error
}

// Extras are the deliverables made only when asked for.
type Extras struct {
	KML     bool // map.kml beside map.kmz
	Network bool // network.geojson

	GeoPackage bool // driftreach.gpkg
	Packed     bool // the layers that grow with records packed, where there are many
	Light      bool // map_light.kmz, where map.kmz has more features than some viewers take
	Workbook   bool // tables.xlsx
	MapPage    bool // map.html above MostUnasked stands too
	Links      bool // stand_links.csv, where there are not too many stands or a plan is made
	Units      bool // stand_units.csv, where reporting units were given
	Lineage    bool // lineage.csv, stand_changes.csv and taken_back.csv, where there is a batch before
	Work       bool // work_done.csv and products_used.csv, where control work is known
	Parts      bool // stand_parts.geojson, where stands were treated in part since their survey
	Crew       bool // crew.gpx and crew.gpkg
	Plan       bool // plan.csv and what belongs to it, where a budget was given
	WaterWork  bool // water_work.csv, where it was made
	SurveyNext bool // survey_next.csv and survey_next.geojson, where they were made
	Public     bool // of a public edition: without the calendar and crew files
	Notices    bool // notices.csv and notices.geojson, where planned works were given
}

// OneFile is the deliverable of one file, with a record for each row.
func OneFile(name, role string, rows func(*result.Run) int, write func(io.Writer, *result.Run, int) error) Deliverable {
	return Deliverable{role, func(to Folder, run *result.Run, workers int) error {
		return to.Write(name, rows(run), func(w io.Writer) error { return write(w, run, workers) })
	}}
}

// alone makes a writer that works by itself fit where workers are offered.
func alone(write func(io.Writer, *result.Run) error) func(io.Writer, *result.Run, int) error {
	return func(w io.Writer, run *result.Run, _ int) error { return write(w, run) }
}
