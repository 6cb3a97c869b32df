// Package mapfile writes a batch's deliverables, with one writer for each, from the run's result and
// the data dictionary. Writers stream, do not read the clock, and write the same bytes for any number
// of workers.
package mapfile

import (
	"io"

	"driftreach/internal/result"
)

// Deliverable is one file that a batch delivers, or several files that belong together.
type Deliverable struct {
	Role   string // what it is, in a few words
	Write  func(to Folder, run *result.Run, workers int) error
	Length Length // of the writing
}

// Length says how long a deliverable takes to write. The longest are begun first, so that none is left
// to one processor at the end.
type Length int8

// The lengths, from the default.
const (
	Short   Length = iota // a table or a chart
	Long                  // a layer or a map, in the time of which several tables are written
	Longest               // every layer at once, on one processor
)

// Taking returns the deliverable with another length.
func (d Deliverable) Taking(l Length) Deliverable {
	d.Length = l
	return d
}

// Folder is the folder into which a deliverable writes its files.
type Folder interface {
	// Write writes the file name with what write sends; records is its number of records. The name is
	// relative to the folder, with forward slashes, and may be in a subfolder. A file may be written
	// during the writing of another, if both are made in one pass.
	Write(name string, records int, write func(io.Writer) error) error
}

// Extras says which of the deliverables that are not always made are wanted.
type Extras struct {
	KML     bool // map.kml beside map.kmz
	Network bool // network.geojson

	GeoPackage bool // driftreach.gpkg
	Packed     bool // the layers that grow with the number of records are packed if there are many records
	Light      bool // map_light.kmz, if map.kmz has more features than some viewers accept
	Workbook   bool // tables.xlsx
	MapPage    bool // map.html also with more than MostUnasked stands
	Links      bool // stand_links.csv, if there are not too many stands or a plan is made
	Units      bool // stand_units.csv, if reporting units were given
	Lineage    bool // lineage.csv, stand_changes.csv and taken_back.csv, if there is a previous batch
	Work       bool // work_done.csv and products_used.csv, if control work is known
	Parts      bool // stand_parts.geojson, if stands were treated in part since their survey
	Crew       bool // crew.gpx and crew.gpkg
	Plan       bool // plan.csv and the other files of the plan, if a budget was given
	WaterWork  bool // water_work.csv, if it was computed
	SurveyNext bool // survey_next.csv and survey_next.geojson, if they were computed
	Public     bool // for a public edition: without the calendar and crew files
	Notices    bool // notices.csv and notices.geojson, if planned works were given
}

// OneFile is the deliverable of one file, with a record for each row.
func OneFile(name, role string, rows func(*result.Run) int, write func(io.Writer, *result.Run, int) error) Deliverable {
	return Deliverable{Role: role, Write: func(to Folder, run *result.Run, workers int) error {
		return to.Write(name, rows(run), func(w io.Writer) error { return write(w, run, workers) })
	}}
}

// alone adapts a writer that does not use workers.
func alone(write func(io.Writer, *result.Run) error) func(io.Writer, *result.Run, int) error {
	return func(w io.Writer, run *result.Run, _ int) error { return write(w, run) }
}
