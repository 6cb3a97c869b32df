package mapfile

import (
	"slices"

	"driftreach/internal/field"
	"driftreach/internal/result"
)

// The table of relations, the table of one relation's pairs, and the rows that register them (OGC
// 18-000, Related Tables 1.0).
const (
	relationSchema = `CREATE TABLE gpkgext_relations (id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, base_table_name TEXT NOT NULL,
		base_primary_column TEXT NOT NULL DEFAULT 'id', related_table_name TEXT NOT NULL, related_primary_column TEXT NOT NULL DEFAULT 'id',
		relation_name TEXT NOT NULL, mapping_table_name TEXT NOT NULL UNIQUE)`
	pairSchema        = `(id INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL, base_id INTEGER NOT NULL, related_id INTEGER NOT NULL)`
	relationExtension = `INSERT INTO gpkg_extensions VALUES (?, NULL, 'gpkg_related_tables', 'http://www.opengis.net/doc/IS/gpkg-rte/1.0', 'read-write')`
)

// pair is a row of a table and a related row of another, by their keys.
type pair struct{ base, related int }

// relate relates each stand to the rows of other tables that name it, with one relation for each table,
// if stands are among the layers.
func (p *database) relate(layers []packLayer) error {
	if !slices.ContainsFunc(layers, func(l packLayer) bool { return l.table.Name == "stands" }) {
		return nil
	}
	var relations [][]pair
	var to []packLayer
	for _, l := range layers {
		if pairs := p.namingStands(l.table); len(pairs) > 0 {
			relations, to = append(relations, pairs), append(to, l)
		}
	}
	if len(relations) == 0 {
		return nil
	}
	if err := p.exec(relationSchema); err != nil {
		return err
	}
	if err := p.exec(relationExtension, "gpkgext_relations"); err != nil {
		return err
	}
	for i, pairs := range relations {
		if err := p.relation(to[i], pairs); err != nil {
			return err
		}
	}
	return nil
}

// namingStands returns which rows of a table name which stands on the map.
func (p *database) namingStands(t result.Table) []pair {
	column := slices.IndexFunc(t.Fields, func(f result.Field) bool { return f.Name == field.StandID })
	if column < 0 || t.Name == "stands" {
		return nil
	}
	if p.standRows == nil {
		p.standRows = make(map[string]int, len(p.run.Stands))
		for i := range p.run.Stands {
			p.standRows[p.run.Stands[i].ID] = rowKey(i)
		}
	}
	var pairs []pair
	for i := range t.Rows {
		if row, is := p.standRows[t.Fields[column].Value(p.run, i).String()]; is {
			pairs = append(pairs, pair{row, rowKey(i)})
		}
	}
	return pairs
}

// relation writes the pairs of stands and rows of layer l.
func (p *database) relation(l packLayer, pairs []pair) error {
	name, kind := "stands_"+l.table.Name, "attributes"
	if l.geometry != "" {
		kind = "features"
	}
	if err := p.exec("CREATE TABLE " + quotedName(name) + " " + pairSchema); err != nil {
		return err
	}
	if err := p.exec(relationExtension, name); err != nil {
		return err
	}
	if err := p.exec(`INSERT INTO gpkgext_relations (base_table_name, base_primary_column, related_table_name, related_primary_column, relation_name, mapping_table_name)
		VALUES ('stands', 'fid', ?, 'fid', ?, ?)`, l.table.Name, kind, name); err != nil {
		return err
	}
	add, err := p.tx.Prepare("INSERT INTO " + quotedName(name) + " (base_id, related_id) VALUES (?, ?)")
	if err != nil {
		return err
	}
	defer add.Close()
	for _, one := range pairs {
		if _, err := add.Exec(one.base, one.related); err != nil {
			return err
		}
	}
	return nil
}

// rowKey is the key of row i in any table: rows are added in order to an empty table.
func rowKey(i int) int { return i + 1 }
