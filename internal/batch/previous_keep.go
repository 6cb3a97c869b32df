package batch

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
)

// KeepArea refuses to go on where the batch that stands in the place of f, and would
// be replaced, is of another area than what was observed: more than half of its
// stands lie farAway from every stream, or all of them from every record. Nothing is
// refused where any batch may be replaced, or where nothing tells: no batch stands
// there, it has no stands, or they were edited. The error is an *OutputError or that
// of the context.
func (in *Observed) KeepArea(ctx context.Context, f *folder.Folder, h Host) error {
	there := f.Replaces()
	if there == nil {
		return nil
	}
	stands, listed := there.Listed(standsFile)
	if !listed {
		return nil
	}
	e := &earlier{ctx: ctx, disk: h.disk(), from: Earlier{Name: there.Name, Path: there.Path}, outputs: map[string]mapfile.File{
		standsFile: {Name: stands.Name, SHA256: stands.SHA256, Bytes: stands.Bytes},
	}}
	const remedy = "choose another --out, or give --replace-other to let it go"
	known, err := e.known(standsFile, h.workers())
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return f.Refuse("the stands of the batch there cannot be held against these: "+disk.Reason(err), remedy)
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
	return f.Refuse(fmt.Sprintf("the folder holds a finished batch of another area: %d of its %d stands are more than %.0f km from every %s of this one",
		off, len(known), farAway().Kilometers(), from), remedy)
}
