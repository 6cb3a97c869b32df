package earlier

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"github.com/paulmach/orb"

	"driftreach/internal/disk"
	"driftreach/internal/field"
	"driftreach/internal/folder"
	"driftreach/internal/host"
	"driftreach/internal/mapfile"
)

// KeepArea refuses to replace a batch of another area: more than half of its stands are farAway from
// every stream of the new quarter, or all of them are farAway from every record. It refuses nothing if
// any batch may be replaced, or if it cannot tell: there is no batch at the place of f, it has no
// stands, or its stands were edited. The error is an *OutputError or that of the context.
func KeepArea(ctx context.Context, f *folder.Folder, now *Now, h host.Host) error {
	there := f.Replaces()
	if there == nil {
		return nil
	}
	e := &opened{ctx: ctx, disk: h.Storage(), from: Folder{Name: there.Name, Path: there.Path}, outputs: map[string]mapfile.File{}}
	for _, name := range []string{mapfile.StandsTable, mapfile.StandsFile} {
		if sum, listed := there.Listed(name); listed {
			e.outputs[name] = mapfile.File{Name: sum.Name, SHA256: sum.SHA256, Bytes: sum.Bytes}
		}
	}
	const remedy = "choose another --out, or give --replace-other to let it go"
	stands, err := e.centers(h.Goroutines())
	if err != nil {
		if ctx.Err() != nil {
			return err
		}
		return f.Refuse("the stands of the batch there cannot be held against these: "+disk.Reason(err), remedy)
	}
	off, from := farFrom(pathsOf(now.Centerlines), stands), "stream"
	if 2*off <= len(stands) || len(now.Centerlines) == 0 {
		if now.Records.Len() == 0 || len(stands) == 0 {
			return nil
		}
		places := make([]orb.LineString, now.Records.Len())
		for i := range places {
			places[i] = orb.LineString{now.Records.Glance(i).Position}
		}
		if off, from = farFrom(places, stands), "record"; off < len(stands) {
			return nil
		}
	}
	return f.Refuse(fmt.Sprintf("the folder holds a finished batch of another area: %d of its %d stands are more than %.0f km from every %s of this one",
		off, len(stands), farAway().Kilometers(), from), remedy)
}

// centers returns the middles of the stands, in degrees: from their table, or from their layer if the
// table is lost or does not tell; none if the batch lists neither.
func (e *opened) centers(workers int) (out []orb.Point, err error) {
	if _, listed := e.outputs[mapfile.StandsTable]; listed {
		told := false
		err = e.check(mapfile.StandsTable, func(r io.Reader) (err error) {
			out, told, err = centersOf(r)
			return err
		})
		if told && err == nil || e.ctx.Err() != nil {
			return out, err
		}
	}
	if _, listed := e.outputs[mapfile.StandsFile]; !listed {
		return nil, err
	}
	known, err := e.known(mapfile.StandsFile, workers)
	return middlesOf(known), err
}

// centersOf reads the middles of stands, in degrees, from their table. The tables of formats 1 and 2
// do not tell them.
func centersOf(table io.Reader) (out []orb.Point, told bool, err error) {
	rows := csv.NewReader(table)
	rows.ReuseRecord = true
	names, err := rows.Read()
	if err != nil {
		return nil, false, err
	}
	at := columnsOf(names)
	wanted := [2]string{field.DecimalLongitude, field.DecimalLatitude}
	for _, name := range wanted {
		if _, there := at[name]; !there {
			return nil, false, nil
		}
	}
	for {
		row, err := rows.Read()
		if err != nil {
			if err == io.EOF {
				err = nil
			}
			return out, true, err
		}
		var center orb.Point
		for d, name := range wanted {
			if center[d], err = strconv.ParseFloat(at.cell(row, name), 64); err != nil {
				return out, true, fmt.Errorf("%s of stand %s: %w", name, row[0], err)
			}
		}
		out = append(out, center)
	}
}
