package earlier

import (
	"context"
	"fmt"

	"github.com/paulmach/orb"

	"driftreach/internal/disk"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
)

// KeepArea refuses to replace a batch of another area: more than half of its stands are farAway from
// every stream of the new quarter, or all of them are farAway from every record. It refuses nothing if
// any batch may be replaced, or if it cannot tell: there is no batch at the place of f, it has no
// stands, or its stands file was edited. The error is an *OutputError or that of the context.
func KeepArea(ctx context.Context, f *folder.Folder, now *Now, h host.Host) error {
	there := f.Replaces()
	if there == nil {
		return nil
	}
	stands, listed := there.Listed(mapfile.StandsFile)
	if !listed {
		return nil
	}
	e := &opened{ctx: ctx, disk: h.Storage(), from: Folder{Name: there.Name, Path: there.Path}, outputs: map[string]mapfile.File{
		mapfile.StandsFile: {Name: stands.Name, SHA256: stands.SHA256, Bytes: stands.Bytes},
	}}
	const remedy = "choose another --out, or give --replace-other to let it go"
	known, err := e.known(mapfile.StandsFile, h.Goroutines())
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return f.Refuse("the stands of the batch there cannot be held against these: "+disk.Reason(err), remedy)
	}
	off, from := farFrom(pathsOf(now.Centerlines), known), "stream"
	if 2*off <= len(known) || len(now.Centerlines) == 0 {
		if now.Records.Len() == 0 || len(known) == 0 {
			return nil
		}
		places := make([]orb.LineString, now.Records.Len())
		for i := range places {
			places[i] = orb.LineString{now.Records.Glance(i).Position}
		}
		if off, from = farFrom(places, known), "record"; off < len(known) {
			return nil
		}
	}
	return f.Refuse(fmt.Sprintf("the folder holds a finished batch of another area: %d of its %d stands are more than %.0f km from every %s of this one",
		off, len(known), farAway().Kilometers(), from), remedy)
}
