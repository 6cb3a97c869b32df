package batch

import (
	"fmt"
	"slices"

	"driftreach/geo"
	"driftreach/internal/correction"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
	"driftreach/internal/public"
	"driftreach/internal/result"
)

// DeliverPublic writes the public edition of run into f. It leaves out the crew files and the calendar,
// which send people to places.
func (d Delivery) DeliverPublic(f *folder.Folder, run *result.Run, h host.Host) error {
	side := geo.Meters(d.Settings.Public.Grid)
	d.Extras.Public, d.Settings = true, d.Settings.ForPublic()
	d.Inputs = unnamed(d.Inputs)
	d.Corrections = slices.Clone(d.Corrections)
	for i := range d.Corrections {
		c := &d.Corrections[i]
		*c = correction.Correction{Date: c.Date, Kind: c.Kind, StandID: c.StandID, OtherID: c.OtherID, Taken: c.Taken, Stands: c.Stands}
	}
	return d.Deliver(f, public.Edition(run, side), h)
}

// unnamed returns the files without the names that people gave them, only with role and hash.
func unnamed(files []mapfile.File) []mapfile.File {
	out, n := slices.Clone(files), map[string]int{}
	for i := range out {
		n[out[i].Role]++
		out[i].Name = fmt.Sprintf("%s %d", out[i].Role, n[out[i].Role])
	}
	return out
}
