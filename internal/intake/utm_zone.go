package intake

import (
	"fmt"
	"regexp"
	"strconv"

	"driftreach/internal/format"
)

// zoneNames are names of columns with the UTM zone of a position [C].
var zoneNames = []string{"utmzone", "zone", "zoneutm", "utmzn", "gridzone", "zona", "zonautm", "huso", "husoutm", "fuso", "fusoutm"}

// systemZone finds the zone in the name of a UTM system, and zoneText in a cell: "18", "18S", "18 H",
// "UTM 18N" or "zone 18".
var (
	systemZone = regexp.MustCompile(`(?i)utm[ _]?zone[ _]?(\d{1,2})`)
	zoneText   = regexp.MustCompile(`(?i)^(?:utm|zone|[ _])*(\d{1,2}) ?[a-z]?$`)
)

// zoneColumn is a column with the UTM zones of the positions, in a file that is read in one zone.
type zoneColumn struct {
	column int // -1 for none
	zone   int // that the file is read in
}

// findZones looks for the column among those met so far. Without a column, or in a system of other
// coordinates, there is nothing to compare.
func (r *featureReader) findZones() {
	r.zones = zoneColumn{column: -1}
	name := r.columns.Named(zoneNames...)
	read := systemZone.FindStringSubmatch(r.System.Name)
	if name == "" || read == nil || r.System.IsGeographic() {
		return
	}
	r.zones.column = r.Schema.Index[name]
	r.zones.zone, _ = strconv.Atoi(read[1]) // two digits
}

// otherZone says why a feature's position cannot be read in the zone of the file; nil if it can be, or
// its zone is not known.
func (r *featureReader) otherZone(f *format.Feature) *unplaced {
	at := r.zones.column
	if at < 0 || at >= len(f.Cells) {
		return nil
	}
	found := zoneText.FindSubmatch(f.Cells[at].Text)
	if found == nil {
		return nil
	}
	if zone, _ := strconv.Atoi(string(found[1])); zone != r.zones.zone && zone >= 1 && zone <= 60 {
		return &unplaced{ruleOtherZone, r.Schema.Names[at], string(f.Cells[at].Text), fmt.Sprintf("the position is of UTM zone %d, and the file is read in %s", zone, r.System.Name)}
	}
	return nil
}
