package mapfile

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"

	"driftreach/geo"
	"driftreach/internal/drift"
	"driftreach/internal/result"
	"driftreach/internal/stand"
)

// By hand: three stands of 1, 1 and 2 acres remove 6, 1 and 1 of 8, so the curve passes (1, 75 %),
// (2, 87.5 %) and (4, 100 %).
func TestOrderSVG(t *testing.T) {
	run := &result.Run{}
	for i, acres := range []geo.Acres{1, 1, 2} {
		run.Stands = append(run.Stands, result.Stand{Stand: stand.Stand{Infested: acres.SquareMeters()}})
		run.Steps = append(run.Steps, drift.Step{Stand: int32(i), Treat: true, Exposure: drift.AmountKm([]float64{6, 7, 8}[i])})
	}
	var out bytes.Buffer
	if err := writeOrderSVG(&out, run); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{
		"Half of the exposure is taken away after 1.00 of 4.00 acres.",
		`d="M56.0 252.0L158.0 90.0L260.0 63.0L464.0 36.0"`, // 408 by 216 pixels from (56, 252)
	} {
		if !strings.Contains(out.String(), want) {
			t.Errorf("no %s in\n%s", want, out.String())
		}
	}
}

// For any run the chart is well-formed XML without NaN or infinite numbers.
func TestOrderSVGIsWellFormed(t *testing.T) {
	for name, run := range map[string]*result.Run{"fixture": fixture(), "many": many(30_000, 8), "empty": {}} {
		var out bytes.Buffer
		if err := writeOrderSVG(&out, run); err != nil {
			t.Fatal(err)
		}
		if strings.Contains(out.String(), "NaN") || strings.Contains(out.String(), "Inf") {
			t.Errorf("%s: a number is none", name)
		}
		for d := xml.NewDecoder(&out); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
		}
	}
}
