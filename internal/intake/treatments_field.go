package intake

import (
	"driftreach/internal/cell"
	"driftreach/internal/column"
	"driftreach/internal/treatment"
)

// The fields of control work, by their index in treatmentFields.
const (
	treatmentID = iota
	treatmentDate
	treatmentStand
	treatmentMethod
	treatmentClass
	treatmentAcres
	treatmentLon
	treatmentLat
	treatmentProduct
	treatmentRegistration
	treatmentAmount
	treatmentAmountUnit
	treatmentApplicator
	treatmentLicence
	treatmentStart
	treatmentEnd
	treatmentWind
	treatmentTemperature
	treatmentHours
	treatmentPhotos
)

// treatmentFields are the columns of control work. Only findings use the id. Case does not
// matter.
var treatmentFields = []column.Field{
	treatmentID:    {Name: "treatment_id", Also: []string{"gpx:name"}},
	treatmentDate:  {Name: "date", Also: []string{"eventDate", "dwc:eventDate", "event_date", "gpx:time", "kml:when"}, In: cell.Day},
	treatmentStand: {Name: "stand_id"},
	treatmentMethod: {Name: "method", Words: column.Theirs{
		"foliar spray": {"spray", "sprayed", "foliar", "foliarapplication"}, "cut stump": {"stump", "cutandpaint", "cutpaint", "cutstumptreatment"},
		"injection": {"inject", "steminjection"}, "hand pull": {"pulled", "pulling", "handpulling", "handremoval"},
		"digging": {"dug", "excavated"}, "covering": {"tarp", "tarping", "tarped"},
	}},
	treatmentClass: {Name: "formulation_class", Words: column.Theirs{
		"aquatic-labelled": {"aquatic", "aquaticlabel", "aquaticlabeled", "aquaticapproved"}, "general": {"terrestrial", "upland", "standard"},
		"none": {"no", "nil", "noherbicide", "mechanical"},
	}},
	treatmentAcres: {Name: "treated_acres", In: cell.Acres},
	treatmentLon:   pointFields[pointLon],
	treatmentLat:   pointFields[pointLat],

	treatmentProduct:      {Name: "product"},
	treatmentRegistration: {Name: "registration_number"},
	treatmentAmount:       {Name: "amount", AsWritten: true},
	treatmentAmountUnit:   {Name: "amount_unit"},
	treatmentApplicator:   {Name: "applicator"},
	treatmentLicence:      {Name: "licence", Also: []string{"license"}},
	treatmentStart:        {Name: "start_time"},
	treatmentEnd:          {Name: "end_time"},
	treatmentWind:         {Name: "wind_mps", In: cell.MetrePerSecond},
	treatmentTemperature:  {Name: "temperature_c", In: cell.Celsius},
	treatmentHours:        {Name: "hours", In: cell.Hour},
	treatmentPhotos:       {Name: "photo_numbers"},
}

// recognisedTreatments are names of columns in the daily logs of crews [C].
var recognisedTreatments = []column.Recognised{
	column.Elsewhere("treatment_id", column.Different, "id", "objectid", "globalid", "fid", "recordid", "no"),
	column.Elsewhere("date", column.Dates, "treatmentdate", "treated", "workdate", "day", "datetreated", "applicationdate", "startdate", "datetime"),
	column.Elsewhere("stand_id", column.Anything, "stand", "standno", "patch", "patchid", "site", "siteid"),
	column.Elsewhere("method", column.FewWords, "treatment", "treatmentmethod", "activity", "type", "technique", "applicationmethod"),
	column.Elsewhere("formulation_class", column.FewWords, "formulation", "class", "productclass", "label", "labelclass"),
	column.Elsewhere("treated_acres", column.Numbers, "acres", "area", "treatedarea", "treated", "areatreated", "acrestreated", "acstreated", "ac", "ha", "hectares", "acreage"),
	column.Elsewhere("product", column.Anything, "productname", "herbicide", "herbicidename", "chemical", "pesticide", "material", "brand", "tradename", "productused"),
	column.Elsewhere("registration_number", column.Anything, "regno", "registration", "registrationno", "regnumber", "regnum", "registrationnum", "productregistration", "productregno", "labelno"),
	column.Elsewhere("amount", column.Numbers, "quantity", "qty", "productamount", "amountused", "used", "applied", "amountapplied", "productused", "qtyused", "totalproduct", "volume", "volumeused", "concentrate", "productvolume", "totalamount", "gallons", "gal", "ounces", "oz", "floz", "liters", "litres", "pounds", "lbs"),
	column.Elsewhere("amount_unit", column.FewWords, "unit", "units", "uom", "amountunits", "unitofmeasure", "qtyunit", "quantityunit", "unitmeasure"),
	column.Elsewhere("applicator", column.Anything, "applicatorname", "appliedby", "operator", "sprayer", "crewlead", "crewleader", "technician", "treatedby"),
	column.Elsewhere("licence", column.Anything, "licenceno", "licenseno", "licencenumber", "licensenumber", "applicatorlicense", "applicatorlicence", "certification", "certificate", "certno", "certificationno", "qal", "licno"),
	column.Elsewhere("start_time", column.Anything, "start", "timestart", "begin", "begintime", "timein", "started", "starttimeofday"),
	column.Elsewhere("end_time", column.Anything, "end", "timeend", "finish", "finishtime", "timeout", "ended", "stoptime", "stop"),
	column.Elsewhere("wind_mps", column.Numbers, "wind", "windspeed", "windvelocity", "wspd", "windspd", "avgwind"),
	column.Elsewhere("temperature_c", column.Numbers, "temperature", "temp", "airtemp", "airtemperature", "ambienttemp"),
	column.Elsewhere("hours", column.Numbers, "labourhours", "laborhours", "crewhours", "personhours", "manhours", "workhours", "hoursworked", "totalhours", "staffhours", "hrs", "duration"),
	column.Elsewhere("photo_numbers", column.Anything, "photos", "photo", "photono", "photonos", "photonumber", "photoid", "photoids", "pictures", "images", "imagenos", "picnos"),
}

// treatmentReader turns features into control work.
type treatmentReader struct {
	featureReader
	found            []treatment.Treatment
	methods, classes map[string]string
	amountUnit       string // unit of amounts without one in the cell; blank if not known
	blank            int    // forms that were returned blank
	slab             slab
}
