package intake

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/testkit"
)

// TestForeignNames: columns in Spanish, German, French and Portuguese are proposed, with accents and
// without; the words are those of the Real Academia's, Duden's, Larousse's and Priberam's dictionaries.
func TestForeignNames(t *testing.T) {
	rows := "a1,13.07.2026,%,untreated,120,60,Ana,junto al agua\na2,1.8.2026,%,treated,80.5,20,Ana,\n"
	rows = strings.Replace(strings.Replace(rows, "%", "-117.20001,34.10001", 1), "%", "-117.20002,34.10001", 1)
	fields := []string{"occurrenceID", "eventDate", "management_status", "patch_area_m2", "canopy_cover_percent", "recordedBy", "occurrenceRemarks"}
	for _, header := range []string{
		"Código,Fécha,lon,lat,Situación,Área (m²),Cobertura (%),Técnico,Observación",
		"codigo,fecha,lon,lat,situacion,superficie_m2,cobertura,observador,observaciones",
		"Nummer,Datum,lon,lat,Zustand,Größe_m2,Deckung %,Beobachter,Bemerkung",
		"Nº,Aufnahmedatum,lon,lat,Status,Fläche [m2],Deckungsgrad,Bearbeiter,Bemerkungen",
		"Numéro,Date de relevé,lon,lat,État,Surface (m2),Recouvrement,Observateur,Remarques",
		"Identificador,Data,lon,lat,Situação,Área m2,Cobertura,Equipe,Observações",
	} {
		columns := strings.Split(header, ",")
		columns = slices.Delete(columns, 2, 4)
		_, _, p := readPoints(t, header+"\n"+rows, testOptions())
		var want []column.Proposal
		for i, field := range fields {
			want = append(want, column.Proposal{Field: field, Column: columns[i]})
		}
		if !slices.Equal(p.Proposals, want) {
			t.Errorf("%s: proposals %+v", header, p.Proposals)
		}
	}
}

// TestPositionRemedy: the remedy names the columns that look like a position, in German too, and the
// column that holds both numbers.
func TestPositionRemedy(t *testing.T) {
	for _, c := range []struct{ header, row, want string }{
		{"id,Länge,Breite", "a,-117.2,34.1", `perhaps decimalLongitude = "Länge" and decimalLatitude = "Breite"`},
		{"id,Laenge,Breite", "a,-117.2,34.1", `perhaps decimalLongitude = "Laenge" and decimalLatitude = "Breite"`},
		{"id,Longitud,Latitud", "a,-117.2,34.1", `perhaps decimalLongitude = "Longitud" and decimalLatitude = "Latitud"`},
		{"id,Breite", "a,34.1", "or map them under [columns.points]"},
		{"id,Place", `a,"34.10001, -117.20001"`, `split the column "Place", which holds two numbers`},
		{"id,Place", `a,(34.10001; -117.20001)`, `split the column "Place", which holds two numbers`},
		{"id,Place", `a,"34, -117"`, "or map them under [columns.points]"},
		{"id,Place", `a,"34.1, -217.2"`, "or map them under [columns.points]"},
		{"id,Place", `a,"34.1, -117.2, 12.5"`, "or map them under [columns.points]"},
	} {
		_, _, err := ReadPoints(testkit.Source("points", strings.NewReader(c.header+"\n"+c.row+"\n")), testOptions())
		var unusable *format.UnusableError
		if !errors.As(err, &unusable) || !strings.Contains(unusable.Remedy, c.want) {
			t.Errorf("%s: %v, want %q", c.header, err, c.want)
		}
	}
}
