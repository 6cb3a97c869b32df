package mapfile

import "driftreach/internal/result"

// styleSchema creates the table in which desktop programs look for a layer's style. It is not part of
// the standard; other programs see it as an ordinary table.
const styleSchema = `CREATE TABLE layer_styles (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, f_table_catalog TEXT(256), f_table_schema TEXT(256),
	f_table_name TEXT(256), f_geometry_column TEXT(256), styleName TEXT(30), styleQML TEXT, styleSLD TEXT, useAsDefault BOOLEAN, description TEXT,
	owner TEXT(30), ui TEXT(30), update_time DATETIME DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')))`

// styles writes two styles for each map layer: one for QGIS, and a Styled Layer Descriptor.
func (p *database) styles(layers []packLayer) error {
	if _, err := p.tx.Exec(styleSchema); err != nil {
		return err
	}
	for _, l := range layers {
		signs := signsOf(l.table.Name)
		if l.geometry == "" || signs == nil {
			continue
		}
		qml := appendQML(nil, signs, l.geometry, labelOf(l.table))
		sld := appendSLD(nil, l.table.Name, signs, l.geometry)
		if _, err := p.tx.Exec(`INSERT INTO layer_styles (f_table_catalog, f_table_schema, f_table_name, f_geometry_column, styleName, styleQML, styleSLD, useAsDefault, description, owner, ui, update_time)
			VALUES ('', '', ?, 'geom', ?, ?, ?, 1, ?, '', NULL, ?)`,
			l.table.Name, l.table.Name, string(qml), string(sld), "The colours and signs of map.kmz and map.html.", p.stamp); err != nil {
			return err
		}
	}
	_, err := p.tx.Exec(`INSERT INTO gpkg_contents VALUES ('layer_styles', 'attributes', 'layer_styles', 'How desktop programs draw the layers', ?, NULL, NULL, NULL, NULL, NULL)`, p.stamp)
	return err
}

// labelOf returns the expression for the labels of a layer's features; blank for none. The label is the
// number at the beginning of the name of a stand that needs treatment.
func labelOf(t result.Table) string {
	if t.Name != "stands" {
		return ""
	}
	return `regexp_substr("name", '^([0-9]+)[.] ')`
}
