package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// schemaOf returns the KML Schema of a table: typed fields, named for people
// with their units.
func schemaOf(t result.Table) kml.Element {
	schema := kml.NamedSchema(t.Name, t.Name)
	for _, f := range t.Fields {
		schema.Append(kml.SimpleField(f.Name, simpleType(f.Kind), kml.DisplayName(f.Title())))
	}
	return schema
}

// simpleType returns the type of a SimpleField (OGC 07-147r2, section 9.9).
func simpleType(k result.Kind) string {
	switch k {
	case result.Flag:
		return "bool"
	case result.Count:
		return "int"
	case result.Number:
		return "double"
	}
	return "string"
}

// schemaData returns the known values of a row; what is blank is left out.
func schemaData(t result.Table, row []result.Value) kml.Element {
	data := kml.SchemaData("#" + t.Name)
	for k, v := range row {
		if s := string(appendSimple(nil, v)); s != "" {
			data.Append(kml.SimpleData(t.Fields[k].Name, s))
		}
	}
	return kml.ExtendedData(data)
}

// appendSimple appends v as the text of a SimpleData. Flags are 1 and 0, the
// form of xsd:boolean that every reader takes (GDAL's warns of the words).
func appendSimple(b []byte, v result.Value) []byte {
	if v.Kind == result.Flag {
		return append(b, byte('0'+v.Int))
	}
	return v.Append(b)
}
