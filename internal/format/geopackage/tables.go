package geopackage

import (
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"driftreach/internal/format"
)

// tables reads the list of tables. The page tree of the schema itself was checked before SQLite opened
// it.
func (g *reader) tables() error {
	rows, done, err := g.ask("SELECT type, name, rootpage, sql FROM sqlite_schema")
	defer done()
	if err != nil {
		return g.Unusable("", "the SQLite database is no GeoPackage: "+format.ShortenTo(err.Error(), 80), "save the layer as GeoPackage")
	}
	g.roots, g.views = map[string]int64{}, map[string]bool{}
	for rows.Next() {
		var kind, name string
		var text sql.NullString
		var root sql.NullInt64
		if err := rows.Scan(&kind, &name, &root, &text); err != nil {
			return err
		}
		name = strings.ToLower(name)
		switch virtual := strings.HasPrefix(strings.ToUpper(text.String), "CREATE VIRTUAL"); {
		case kind == "table" && !virtual:
			g.roots[name] = root.Int64
		case kind == "table" || kind == "view":
			g.views[name] = true
		}
		if len(g.roots)+len(g.views) > g.Limits.Members {
			return g.tooManyTables()
		}
	}
	return rows.Err()
}

func (g *reader) tooManyTables() error {
	return g.Unusable("", "the GeoPackage has more layers than limits.members allows", "save the layer to a new one, or raise limits.members")
}

// stored returns a table after its page tree has been checked, or nil if there is no table of that
// name.
func (g *reader) stored(name string) (*storedTable, error) {
	root, ok := g.roots[strings.ToLower(name)]
	if !ok && g.views[strings.ToLower(name)] {
		return nil, g.Unusable("table "+format.Shorten(name), "it is a view or a virtual table, which could ask for anything, and is not read", "save the layer to a new GeoPackage")
	}
	if !ok {
		return nil, nil
	}
	if err := g.pages.check(root); err != nil {
		return nil, g.Unusable("table "+format.Shorten(name), "the GeoPackage is damaged: "+err.Error(), "copy it again, or save the layer to a new one")
	}
	// table_info leaves out computed columns
	rows, done, err := g.ask("PRAGMA table_info(" + quoted(name) + ")")
	defer done()
	if err != nil {
		return nil, err
	}
	t := &storedTable{name: name}
	for rows.Next() {
		var column string
		var key int
		var rest any
		if err := rows.Scan(&rest, &column, &rest, &rest, &rest, &key); err != nil {
			return nil, err
		}
		t.columns = append(t.columns, column)
		if key > 0 {
			t.keys = append(t.keys, column)
		}
	}
	return t, rows.Err()
}

// each passes the columns of every row of a table to take. A column that is not stored is blank. SQLite
// does not filter or join rows, so every step yields a row, and there are no more rows than the pages
// can hold.
func (g *reader) each(t *storedTable, columns []string, take func(values []any) error) error {
	if t == nil {
		return nil
	}
	query := make([]string, len(columns))
	for i, name := range columns {
		query[i] = "NULL"
		if slices.ContainsFunc(t.columns, func(c string) bool { return strings.EqualFold(c, name) }) {
			query[i] = "+" + quoted(name) // the plus sign keeps the driver from converting text to time values
		}
	}
	// without NOT INDEXED, SQLite could read an index that covers these columns instead of the table
	rows, done, err := g.ask("SELECT " + strings.Join(query, ", ") + " FROM " + quoted(t.name) + " NOT INDEXED")
	defer done()
	if err != nil {
		return err
	}
	values, into := make([]any, len(columns)), make([]any, len(columns))
	for i := range values {
		into[i] = &values[i]
	}
	for rows.Next() {
		if err := rows.Scan(into...); err != nil {
			return err
		}
		if err := g.spend(values); err != nil {
			return err
		}
		if err := take(values); err != nil {
			return err
		}
	}
	return rows.Err()
}

// spend adds up the bytes in the rows. If rows share the same stored text, the total can exceed the
// size of the file. Twice the file size is allowed, for text with two bytes a letter.
func (g *reader) spend(values []any) error {
	for _, v := range values {
		switch v := v.(type) {
		case string:
			g.spent += int64(len(v))
		case []byte:
			g.spent += int64(len(v))
		}
	}
	if g.spent > 2*g.size {
		return g.Unusable("", "the GeoPackage is damaged: its rows hold more than the file", "copy it again, or save the layer to a new one")
	}
	return nil
}

// asText returns a value of a system table as text.
func asText(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case []byte:
		return string(v)
	case nil:
		return ""
	}
	return fmt.Sprint(v)
}

func quoted(name string) string { return `"` + strings.ReplaceAll(name, `"`, `""`) + `"` }
