package mapfile

import (
	"database/sql"

	"driftreach/internal/intake"
	"driftreach/internal/result"
)

// packLayer is one table of the GeoPackage.
type packLayer struct {
	table    result.Table
	geometry string                       // its SQL type; blank for a table without geometry
	shape    func(p *database, i int) any // geometry of row i; nil for none
}

// database is a GeoPackage that is being filled.
type database struct {
	run    *result.Run
	tx     *sql.Tx
	forms  map[string][]intake.Blank
	stamp  string // of the layers
	blob   []byte
	box    box // of the layer
	around box // of the last packed shape
	row    []result.Value
	shapes unpacker

	standRows map[string]int // keys of stands by their ids
}

func (p *database) exec(statement string, values ...any) error {
	_, err := p.tx.Exec(statement, values...)
	return err
}
