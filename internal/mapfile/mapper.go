package mapfile

import (
	"bytes"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// mapper makes placemarks; one for each worker.
type mapper struct {
	run     *result.Run
	packed  bool // in a KMZ, in which GDAL does not look for a schema
	large   bool // short balloons; regions in a KML, little data in a KMZ
	around  box  // of the next placemark, if it needs a region
	thin    thinner
	shapes  unpacker
	row     []result.Value
	name    []byte
	balloon []byte
	rest    map[string]bool // fields of stands that the balloon shows last

	// texts of our own elements
	words, values, places []byte

	spill func(*bytes.Buffer) // empties a buffer of long text; nil to keep it
	block *block              // the piece in a KMZ; nil otherwise
}

// shortTold are the fields in the balloons of a large map, by table. Other tables have all.
var shortTold = map[string]map[string]bool{
	"reaches":      fieldSet("exposure_class", "hours_afloat_fast", "nearest_stand_id", "barrier", "stage"),
	"aquatic_zone": fieldSet(field.ZoneAcres),
	"survey_next":  fieldSet("why", field.LookedAt, field.Access),
}

// leastData are the fields that the data of a large map in a KMZ has, by table. Other tables have
// all. Some globes read every part at once and hold each value of each feature: with all of them
// CesiumJS 1.140 has no memory left to draw 48,000 stands. map.kml and the GeoPackage have all fields.
var leastData = map[string]map[string]bool{
	"stands": fieldSet(field.StandID, field.ManagementStatus, field.FollowUp, field.NextVisit, field.TreatOrder, field.Requirements, field.InfestedAcres,
		field.DecimalLongitude, field.DecimalLatitude),
	"reaches":      fieldSet(),
	"aquatic_zone": fieldSet(),
	"survey_next":  fieldSet(),
	"points":       fieldSet(),
}

// regions says whether placemarks have regions of their own. In a large map in a KMZ the parts have them.
func (m *mapper) regions() bool { return m.large && !m.packed }
