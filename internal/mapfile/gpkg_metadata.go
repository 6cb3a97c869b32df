package mapfile

import (
	"fmt"
	"slices"
	"time"

	"driftreach/internal/result"
)

// metadataSchema creates the tables of the metadata extension (12-128r18, annex F.8).
var metadataSchema = []string{
	`CREATE TABLE gpkg_metadata (id INTEGER CONSTRAINT m_pk PRIMARY KEY ASC NOT NULL, md_scope TEXT NOT NULL DEFAULT 'dataset',
		md_standard_uri TEXT NOT NULL, mime_type TEXT NOT NULL DEFAULT 'text/xml', metadata TEXT NOT NULL DEFAULT '')`,
	`CREATE TABLE gpkg_metadata_reference (reference_scope TEXT NOT NULL, table_name TEXT, column_name TEXT, row_id_value INTEGER,
		timestamp DATETIME NOT NULL DEFAULT (strftime('%Y-%m-%dT%H:%M:%fZ','now')), md_file_id INTEGER NOT NULL, md_parent_id INTEGER,
		CONSTRAINT crmr_mfi_fk FOREIGN KEY (md_file_id) REFERENCES gpkg_metadata(id),
		CONSTRAINT crmr_mpi_fk FOREIGN KEY (md_parent_id) REFERENCES gpkg_metadata(id))`,
	`INSERT INTO gpkg_extensions VALUES
		('gpkg_metadata', NULL, 'gpkg_metadata', 'http://www.geopackage.org/spec130/#extension_metadata', 'read-write'),
		('gpkg_metadata_reference', NULL, 'gpkg_metadata', 'http://www.geopackage.org/spec130/#extension_metadata', 'read-write')`,
}

// The standards in which metadata are written: ISO 19115 as XML by ISO 19139, and plain sentences with
// the terms of Dublin Core.
const (
	isoMetadata = "http://www.isotc211.org/2005/gmd"
	provenance  = "http://purl.org/dc/terms/provenance"
)

// wholeID is the key of the metadata of the whole file.
const wholeID = 1

// metadata writes what the file is, with its cautions and origin, and the origin of the figures in each
// column.
func (p *database) metadata(layers []packLayer) error {
	for _, statement := range metadataSchema {
		if err := p.exec(statement); err != nil {
			return err
		}
	}
	const record, reference = `INSERT INTO gpkg_metadata VALUES (?, ?, ?, ?, ?)`,
		`INSERT INTO gpkg_metadata_reference VALUES (?, ?, ?, NULL, ?, ?, ?)`
	if err := p.exec(record, wholeID, "dataset", isoMetadata, "text/xml", string(appendISO(nil, p.run))); err != nil {
		return err
	}
	if err := p.exec(reference, "geopackage", nil, nil, p.stamp, wholeID, nil); err != nil {
		return err
	}
	var told []string // origins, each once
	for _, l := range layers {
		columns := columnNames(l)
		for k, f := range l.table.Fields {
			if f.Origin == "" {
				continue
			}
			at := slices.Index(told, f.Origin)
			if at < 0 {
				at = len(told)
				told = append(told, f.Origin)
				if err := p.exec(record, wholeID+1+at, "attributeType", provenance, "text/plain", f.Origin); err != nil {
					return err
				}
			}
			if err := p.exec(reference, "column", l.table.Name, columns[k], p.stamp, wholeID+1+at, wholeID); err != nil {
				return err
			}
		}
	}
	return nil
}

// appendISO appends a record of ISO 19115 for a run's layers, encoded by ISO 19139: title, contents,
// limits on its use, who may use it for what, and how it was made.
func appendISO(b []byte, run *result.Run) []byte {
	text := func(element, s string) {
		b = append(append(append(b, "<gmd:"...), element...), '>')
		b = appendElement(b, "gco:CharacterString", s)
		b = append(append(append(b, "</gmd:"...), element...), ">\n"...)
	}
	code := func(element, list, value string) {
		b = fmt.Appendf(b, `<gmd:%s><gmd:%s codeList="http://standards.iso.org/iso/19139/resources/gmxCodelists.xml#%s" codeListValue="%s">%s</gmd:%s></gmd:%s>`+"\n",
			element, list, list, value, value, list, element)
	}
	day := run.Quarter.End().Format(time.DateOnly)
	b = append(b, `<?xml version="1.0" encoding="UTF-8"?>
<gmd:MD_Metadata xmlns:gmd="http://www.isotc211.org/2005/gmd" xmlns:gco="http://www.isotc211.org/2005/gco">
`...)
	text("fileIdentifier", "driftreach "+run.Quarter.String())
	b = append(b, `<gmd:language><gco:CharacterString>eng</gco:CharacterString></gmd:language>`+"\n"...)
	code("hierarchyLevel", "MD_ScopeCode", "dataset")
	b = append(b, `<gmd:contact gco:nilReason="missing"/>`+"\n<gmd:dateStamp><gco:Date>"+day+"</gco:Date></gmd:dateStamp>\n"...)
	b = append(b, "<gmd:identificationInfo><gmd:MD_DataIdentification>\n<gmd:citation><gmd:CI_Citation>\n"...)
	text("title", "Stands and stream at risk, "+run.Quarter.String())
	b = append(b, "<gmd:date><gmd:CI_Date><gmd:date><gco:Date>"+day+"</gco:Date></gmd:date>\n"...)
	code("dateType", "CI_DateTypeCode", "creation")
	b = append(b, "</gmd:CI_Date></gmd:date>\n</gmd:CI_Citation></gmd:citation>\n"...)
	text("abstract", contents(run))
	b = append(b, "<gmd:resourceConstraints><gmd:MD_Constraints>\n"...)
	for _, caution := range result.Cautions(run) {
		text("useLimitation", caution)
	}
	b = append(b, "</gmd:MD_Constraints></gmd:resourceConstraints>\n<gmd:language><gco:CharacterString>eng</gco:CharacterString></gmd:language>\n"...)
	b = append(b, "</gmd:MD_DataIdentification></gmd:identificationInfo>\n<gmd:dataQualityInfo><gmd:DQ_DataQuality>\n<gmd:scope><gmd:DQ_Scope>"...)
	code("level", "MD_ScopeCode", "dataset")
	b = append(b, "</gmd:DQ_Scope></gmd:scope>\n<gmd:lineage><gmd:LI_Lineage>\n"...)
	text("statement", origin(run))
	return append(b, "</gmd:LI_Lineage></gmd:lineage>\n</gmd:DQ_DataQuality></gmd:dataQualityInfo>\n</gmd:MD_Metadata>\n"...)
}

// contents says what the layers of a run show.
func contents(run *result.Run) string {
	return fmt.Sprintf("Mapped stands of a stream-side plant, the aquatic zone, stream at risk below them, survey records and follow-up of %s: %d stands, %d records. Acres are acres of the WGS 84 ellipsoid.",
		run.Quarter, len(run.Stands), run.Records.Len())
}

// origin says from what the layers of a run were made.
func origin(run *result.Run) string {
	s := fmt.Sprintf("Made by driftreach from survey records and stream centerlines of %s; manifest.json beside this file names every input with its hash, and every setting. The table gpkg_data_columns says what each column means; where its rule or figure comes from is told by column: [P] published, [C] common practice, [A] assumed.", run.Quarter)
	if run.Previous != nil {
		s += " It continues the batch of " + run.Previous.Quarter.String() + "."
	}
	return s
}
