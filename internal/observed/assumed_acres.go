package observed

import (
	"fmt"
	"strconv"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/internal/check"
	"driftreach/internal/intake"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
)

// Worth returns one line for each thing that a batch of these inputs under s will assume because it was
// not recorded, with the acres that depend on it. The acres are sums of whole patches, before overlaps
// are dissolved. net is the connected stream network; it may be nil.
func (in *Quarter) Worth(s settings.Settings, net *stream.Network) []string {
	var lines []string
	add := func(line string) {
		if line != "" {
			lines = append(lines, line)
		}
	}
	w := in.weigh(s)
	add(w.patchLine(in, s))
	add(w.coverLine(in, s))
	add(w.dateLine(in))
	add(w.foundLine(in))
	add(w.statusLine(in))
	if net != nil && net.CountLines() > 0 {
		add(widthLine(s, net))
	}
	return lines
}

// weighed counts the finds that lack a measurement, and their acres.
type weighed struct {
	finds, noArea, noCover, noDate          int
	all, assumed, uncovered, undated, shade float64 // acres; shade is canopy at the assumed cover
}

func (in *Quarter) weigh(s settings.Settings) weighed {
	var w weighed
	defaults := stand.Settings{DefaultPatch: geo.Acres(s.Stands.DefaultPatch), DefaultCover: s.Stands.DefaultCover}
	all := in.Records
	for i := range all.Len() {
		r := all.At(i)
		if !r.Detected {
			continue
		}
		patch := stand.PatchOf(*r, defaults)
		if r.Outline != nil {
			patch.Area = earth.Area(r.Outline)
		}
		acres := float64(patch.Area.Acres())
		w.finds++
		w.all += acres
		if patch.AreaAssumed {
			w.noArea++
			w.assumed += acres
		}
		if patch.CoverAssumed {
			w.noCover++
			w.uncovered += acres
			w.shade += float64(patch.Canopy().Acres())
		}
		if r.Begin.IsZero() {
			w.noDate++
			w.undated += acres
		}
	}
	return w
}

func (w weighed) patchLine(in *Quarter, s settings.Settings) string {
	if w.noArea == 0 {
		return ""
	}
	return fmt.Sprintf("patch area: %s %s ac each, %s acres in all%s", lacking(in, w.noArea, w.finds, "take", "patch_area_m2", "patch_length_m", "patch_diameter_m"),
		settings.Number(s.Stands.DefaultPatch), geo.Acres(w.assumed).Text(), of(w.assumed, w.all))
}

func (w weighed) coverLine(in *Quarter, s settings.Settings) string {
	if w.noCover == 0 {
		return ""
	}
	return fmt.Sprintf("canopy cover: %s %s %% of %s acres, %s acres of canopy", lacking(in, w.noCover, w.finds, "take", "canopy_cover_percent", "canopy_cover_class"),
		settings.Number(s.Stands.DefaultCover), geo.Acres(w.uncovered).Text(), geo.Acres(w.shade).Text())
}

func (w weighed) dateLine(in *Quarter) string {
	if w.noDate == 0 {
		return ""
	}
	quarter := "the quarter"
	if !in.Quarter.IsZero() {
		quarter = in.Quarter.String()
	}
	return fmt.Sprintf("date: %s as of %s, %s acres%s", lacking(in, w.noDate, w.finds, "count", "eventDate"), quarter, geo.Acres(w.undated).Text(), of(w.undated, w.all))
}

// foundLine reports files without a column for whether the plant was found.
func (w weighed) foundLine(in *Quarter) string {
	return w.fileLine(in, "occurrenceStatus", "found or not", "found")
}

func (w weighed) statusLine(in *Quarter) string {
	return w.fileLine(in, "management_status", "status", "untreated")
}

// fileLine reports the finds in files without a column for a field.
func (w weighed) fileLine(in *Quarter, field, what, taken string) string {
	without := map[string]bool{}
	for i := range in.ColumnReports {
		if in.Files[i].Role == intake.RolePoints && !hasField(&in.ColumnReports[i], field) {
			without[in.ColumnReports[i].Name] = true
		}
	}
	records := 0
	all := in.Records
	for i := range all.Len() {
		if r := all.At(i); r.Detected && without[r.File] {
			records++
		}
	}
	if records == 0 {
		return ""
	}
	acres := ""
	if records == w.finds {
		acres = ", " + geo.Acres(w.all).Text() + " acres"
	}
	which := "all "
	if records == 1 {
		which = "which "
	}
	return fmt.Sprintf("%s: no column; %s, %s%s as %s%s", what, recordsOfAll(records, w.finds), which, doing(records, "count"), taken, acres)
}

// widthLine reports the streams whose width comes from the table by stream order.
func widthLine(s settings.Settings, net *stream.Network) string {
	lines := map[int32]bool{}
	var all, km geo.Kilometers
	acres := 0.0
	table := s.Aquatic.WidthByOrder
	for i := range net.Net.Edges {
		e := &net.Net.Edges[i]
		all += e.Length.Kilometers()
		if net.Line(e.Line).BankfullWidth > 0 {
			continue
		}
		lines[e.Line] = true
		km += e.Length.Kilometers()
		width := table[min(max(net.Order[i], 1), len(table))-1]
		acres += float64(geo.SquareMeters(float64(e.Length) * width).Acres())
	}
	if len(lines) == 0 {
		return ""
	}
	return fmt.Sprintf("bankfull width: %d of %d lines without one, %s of %s km; by stream order, %s acres between the banks",
		len(lines), net.CountLines(), check.Short(float64(km)), check.Short(float64(all)), geo.Acres(acres).Text())
}

// lacking says how many finds lack a measurement, and whether their files have no column for it. do is
// the verb for what the finds do.
func lacking(in *Quarter, n, finds int, do string, fields ...string) string {
	if !anyField(in, fields) {
		return "no column; " + recordsOfAll(n, finds) + " " + doing(n, do)
	}
	return "not in every record; " + recordsOfAll(n, finds) + " " + doing(n, do)
}

func recordsOfAll(n, all int) string {
	text := strconv.Itoa(n) + " records"
	if n == 1 {
		text = "1 record"
	}
	if n == all {
		return text
	}
	return fmt.Sprintf("%s of %d", text, all)
}

// doing returns a verb for one or for many.
func doing(n int, verb string) string {
	if n == 1 {
		return verb + "s"
	}
	return verb
}

// anyField says whether any file of points has a column for one of the fields.
func anyField(in *Quarter, fields []string) bool {
	for i := range in.ColumnReports {
		for _, field := range fields {
			if in.Files[i].Role == intake.RolePoints && hasField(&in.ColumnReports[i], field) {
				return true
			}
		}
	}
	return false
}

func hasField(f *intake.File, field string) bool {
	for _, u := range f.Columns {
		if u.Field == field {
			return true
		}
	}
	return false
}

// of names the whole that a part belongs to; blank if the part is all of it.
func of(part, all float64) string {
	if geo.Acres(part).Text() == geo.Acres(all).Text() {
		return ""
	}
	return " of " + geo.Acres(all).Text()
}
