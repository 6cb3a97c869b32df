package mapfile

import (
	"github.com/twpayne/go-kml/v3"

	"driftreach/internal/result"
)

// schemaOf returns the KML Schema of a table: typed fields with display names and units.
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

// schemaData returns the known values of a row, typed by the table's schema.
func (m *mapper) schemaData(t result.Table, row []result.Value) kml.Element {
	b := append(append(append(m.values[:0], `<SchemaData schemaUrl="#`...), t.Name...), `">`...)
	for k, v := range row {
		if blank(v) {
			continue
		}
		b = append(append(append(b, `<SimpleData name="`...), t.Fields[k].Name...), `">`...)
		b = append(appendSimple(b, v), "</SimpleData>"...)
	}
	m.values = append(b, "</SchemaData>"...)
	return escaped{"ExtendedData", m.values}
}

// appendSimple appends v as the text of a SimpleData. Flags are written as 1 and 0, the form of
// xsd:boolean that every reader accepts (GDAL warns about true and false).
func appendSimple(b []byte, v result.Value) []byte {
	switch v.Kind {
	case result.Flag:
		return append(b, byte('0'+v.Int))
	case result.Text, result.Date:
		return appendXML(b, v.Text)
	case result.List:
		return appendXML(b, v.String())
	}
	return v.Append(b)
}
