package mapfile

import (
	"database/sql"
	"strings"
)

// indexTable creates the spatial index of a layer <t> (12-128r18, annex F.3).
const indexTable = `CREATE VIRTUAL TABLE "rtree_<t>_geom" USING rtree(id, minx, maxx, miny, maxy)`

// indexTriggers keep the index correct when others change the layer. They are the triggers of the
// annex, by the last part of their names. The functions they call are provided by the program that
// changes the layer, so the triggers are created after the index has been filled.
var indexTriggers = [][2]string{
	{"insert", `AFTER INSERT ON "<t>" WHEN (NEW.geom NOT NULL AND NOT ST_IsEmpty(NEW.geom)) BEGIN <add> END`},
	{"update1", `AFTER UPDATE OF geom ON "<t>" WHEN OLD.fid = NEW.fid AND (NEW.geom NOTNULL AND NOT ST_IsEmpty(NEW.geom)) BEGIN <add> END`},
	{"update2", `AFTER UPDATE OF geom ON "<t>" WHEN OLD.fid = NEW.fid AND (NEW.geom ISNULL OR ST_IsEmpty(NEW.geom)) BEGIN DELETE FROM "rtree_<t>_geom" WHERE id = OLD.fid; END`},
	{"update3", `AFTER UPDATE ON "<t>" WHEN OLD.fid != NEW.fid AND (NEW.geom NOTNULL AND NOT ST_IsEmpty(NEW.geom)) BEGIN DELETE FROM "rtree_<t>_geom" WHERE id = OLD.fid; <add> END`},
	{"update4", `AFTER UPDATE ON "<t>" WHEN OLD.fid != NEW.fid AND (NEW.geom ISNULL OR ST_IsEmpty(NEW.geom)) BEGIN DELETE FROM "rtree_<t>_geom" WHERE id IN (OLD.fid, NEW.fid); END`},
	{"delete", `AFTER DELETE ON "<t>" WHEN OLD.geom NOT NULL BEGIN DELETE FROM "rtree_<t>_geom" WHERE id = OLD.fid; END`},
}

const indexAdd = `INSERT OR REPLACE INTO "rtree_<t>_geom" VALUES (NEW.fid, ST_MinX(NEW.geom), ST_MaxX(NEW.geom), ST_MinY(NEW.geom), ST_MaxY(NEW.geom));`

// forIndex returns a statement for a layer's index.
func forIndex(layer, statement string) string {
	return strings.ReplaceAll(strings.ReplaceAll(statement, "<add>", indexAdd), "<t>", layer)
}

// beginIndex creates a layer's index and returns the statement that adds a row to it.
func (p *database) beginIndex(layer string) (*sql.Stmt, error) {
	if _, err := p.tx.Exec(forIndex(layer, indexTable)); err != nil {
		return nil, err
	}
	return p.tx.Prepare(forIndex(layer, `INSERT INTO "rtree_<t>_geom" VALUES (?, ?, ?, ?, ?)`))
}

// indexRow adds row fid, whose shape has just been packed, to the index.
func (p *database) indexRow(add *sql.Stmt, fid int) error {
	degrees := func(steps int64) float64 { return float64(steps) / perDegree }
	_, err := add.Exec(fid, degrees(p.around.west), degrees(p.around.east), degrees(p.around.south), degrees(p.around.north))
	return err
}

// endIndex adds the triggers and registers the index.
func (p *database) endIndex(layer string) error {
	for _, t := range indexTriggers {
		if _, err := p.tx.Exec(forIndex(layer, `CREATE TRIGGER "rtree_<t>_geom_`+t[0]+`" `+t[1])); err != nil {
			return err
		}
	}
	_, err := p.tx.Exec(`INSERT INTO gpkg_extensions VALUES (?, 'geom', 'gpkg_rtree_index', 'http://www.geopackage.org/spec130/#extension_rtree', 'write-only')`, layer)
	return err
}
