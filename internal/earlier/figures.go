package earlier

import (
	"errors"
	"fmt"
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/folder"
	"driftreach/internal/lineage"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
	"driftreach/internal/verify"
)

// plausible says what is wrong with the figures of a stand on its own. An earlier batch is not trusted,
// since its acres become part of this one's.
func plausible(k *lineage.Known) error {
	s := figuresOf(k)
	s.Footprint = k.Footprint.Polygons()
	if problem := s.Problem(); problem != "" {
		return errors.New(problem)
	}
	return nil
}

// figuresOf returns a stand's acreages, without its footprint.
func figuresOf(k *lineage.Known) verify.Stand {
	return verify.Stand{
		ID: k.ID, Gross: float64(k.Gross.Acres()), Infested: float64(k.Infested.Acres()), Canopy: float64(k.Canopy.Acres()), Zone: float64(k.Zone.Acres()),
	}
}

// figures checks the totals that an earlier batch printed against its stands, its rows by stream and
// unit, its counts and its fragments.
func (e *opened) figures(known []lineage.Known, h result.History) error {
	var stands []verify.Stand
	absent := 0
	for k := range known {
		if known[k].Absent {
			absent++
			continue
		}
		stands = append(stands, figuresOf(&known[k]))
	}
	for _, c := range []struct {
		name string
		n    int
	}{{"stands", len(stands)}, {"absent_stands", absent}} {
		if said, there := e.counts[c.name]; there && said != c.n {
			return e.damaged(fmt.Sprintf("%s counts %d %s, and there are %d", folder.ManifestName, said, c.name, c.n))
		}
	}
	at := slices.Index(h.Columns, field.Quarter)
	rows := [][]string{h.Columns}
	for _, row := range h.Rows {
		if row[at] == e.quarter.String() {
			rows = append(rows, row)
		}
	}
	if wrong := verify.Summary(rows, stands, nil); len(wrong) > 0 {
		return e.damaged(mapfile.HistoryFile + ": " + wrong[0])
	}
	for _, b := range e.balance {
		if wrong := verify.Balance(b); wrong != "" {
			return e.damaged(folder.ManifestName + ": " + wrong)
		}
	}
	return nil
}
