package batch

import (
	"fmt"
	"slices"

	"github.com/paulmach/orb"

	"driftreach/internal/mapfile"
)

// KeepArea refuses to go on where the batch that stands in the folder's place, and
// would be replaced, is of another area than what was observed: more than half of its
// stands lie farAway from every stream, or all of them from every record. Nothing is
// refused where Out says to replace others too, or where nothing tells: no batch
// stands there, it has no stands, or they were edited. The error is an *OutputError or
// that of the context.
func (f *Folder) KeepArea(in *Observed, h Host) error {
	s := f.site
	if s == nil || f.prefix != "" || s.out.Other || s.found.quarter == "" || s.found.stands.Name == "" || slices.Contains(s.found.edited, standsFile) {
		return nil
	}
	there := &earlier{
		ctx: f.ctx, disk: s.disk, from: Earlier{Name: s.out.Dir, Path: s.dir}, outputs: map[string]mapfile.File{standsFile: s.found.stands},
	}
	const remedy = "choose another --out, or give --replace-other to let it go"
	known, err := there.known(standsFile, h.workers())
	if err != nil {
		if f.ctx.Err() != nil {
			return err
		}
		return s.fail(&refusedError{"the stands of the batch there cannot be held against these: " + reason(err), remedy})
	}
	places := make([]orb.LineString, len(in.Records))
	for i := range places {
		places[i] = orb.LineString{in.Records[i].Position}
	}
	off, from := farFrom(pathsOf(in.Centerlines), known), "stream"
	if 2*off <= len(known) || len(in.Centerlines) == 0 {
		if off, from = farFrom(places, known), "record"; off < len(known) || len(known)*len(places) == 0 {
			return nil
		}
	}
	return s.fail(&refusedError{
		fmt.Sprintf("the folder holds a finished batch of another area: %d of its %d stands are more than %.0f km from every %s of this one",
			off, len(known), farAway().Kilometers(), from), remedy,
	})
}
