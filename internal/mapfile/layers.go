package mapfile

import (
	"io"

	"driftreach/geo"
	"driftreach/internal/lineage"
	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// writeStands writes stands.geojson: one feature for each stand, its infested footprint, in treatment
// order.
func writeStands(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.StandTable(run),
		func(b []byte, i int) []byte {
			s := &run.Stands[i]
			return appendExact(appendString(b, s.ID), &s.Stand, s.Zone.Area, s.Memory)
		},
		func(c *collection, b []byte, i int) []byte { return c.outline(b, run.Stands[i].Footprint) })
}

// appendExact appends a stand's exact acreages and what the chain remembers of it. The next batch
// computes its sums from these, not from the printed figures.
func appendExact(b []byte, s *stand.Stand, zone geo.SquareMeters, m lineage.Memory) []byte {
	b = append(b, `,"exact_acres":{`...)
	for k, one := range []struct {
		name string
		area geo.SquareMeters
	}{{"gross", s.Gross}, {"infested", s.Infested}, {"canopy", s.Canopy}, {"zone", zone}} {
		if k > 0 {
			b = append(b, ',')
		}
		b = append(appendString(b, one.name), ':')
		b = result.AppendFixed(b, one.area.Grains(), geo.GrainDecimals)
	}
	b = result.AppendFixed(append(b, `,"ever":`...), m.Ever, geo.GrainDecimals)
	b = result.AppendFixed(append(b, `,"missing":`...), m.Missing, geo.GrainDecimals)
	if m.Lost {
		b = append(b, `,"lost":true`...)
	}
	return append(b, '}')
}

// writeParts writes stand_parts.geojson: two features for each stand treated in part since its survey.
// Each has its own area, or the stand's position if the area is not known.
func writeParts(w io.Writer, run *result.Run) error {
	parts := result.PartsOfStands(run)
	return writeCollection(w, run, result.PartTable(run), byNumber, func(c *collection, b []byte, i int) []byte {
		if parts[i].Ground == nil {
			return c.point(b, parts[i].At)
		}
		return c.polygon(b, parts[i].Ground)
	})
}

// writePoints writes points.geojson: a feature an accepted record.
func writePoints(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.PointTable(run),
		func(b []byte, i int) []byte { return appendString(b, run.Records.At(i).ID) },
		func(c *collection, b []byte, i int) []byte { return c.point(b, run.Records.At(i).Position) })
}

// writeZone writes aquatic_zone.geojson: one feature for each water body.
func writeZone(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.ZoneTable(run), byNumber,
		func(c *collection, b []byte, i int) []byte { return c.zone(b, run.Zones[i].Geometry) })
}

// writeReaches writes reaches.geojson: one feature for each piece of stream at risk.
func writeReaches(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.ReachTable(run), byNumber,
		func(c *collection, b []byte, i int) []byte { return c.line(b, run.Reaches[i].Path) })
}

// writeNetwork writes network.geojson: a feature an edge of the stream network,
// in flow order.
func writeNetwork(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.NetworkTable(run), byNumber,
		func(c *collection, b []byte, i int) []byte { return c.line(b, run.Network.Paths.At(i)) })
}

// writeNotices writes notices.geojson: one feature for each planned work and stand, with the place of
// the work.
func writeNotices(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.NoticeTable(run),
		func(b []byte, i int) []byte { return appendString(b, result.NoticeID(run, i)) },
		func(c *collection, b []byte, i int) []byte { return c.work(b, &run.Works[run.Notices[i].Work]) })
}

// writeFindings writes findings.geojson: one feature for each finding, without geometry if it has no
// place on earth.
func writeFindings(w io.Writer, run *result.Run) error {
	return writeCollection(w, run, result.FindingTable(run), byNumber,
		func(c *collection, b []byte, i int) []byte {
			p := run.Findings[i].Position
			if !result.OnEarth(p) {
				return append(b, "null"...)
			}
			return c.point(b, *p)
		})
}
