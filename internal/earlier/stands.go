package earlier

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"time"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/earth"
	"driftreach/geo/parallel"
	"driftreach/geo/shape"
	"driftreach/internal/field"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/verify"
)

// knownProperties are the properties read for a stand, present or absent.
type knownProperties struct {
	ID          string  `json:"stand_id"`
	Quarter     string  `json:"quarter"`
	Isolated    bool    `json:"isolated"`
	First       string  `json:"first_detected"`
	Last        string  `json:"last_detected"`
	Status      string  `json:"management_status"`
	CarriedFrom string  `json:"carried_from"`
	LastQuarter string  `json:"last_quarter"`
	AbsentSince string  `json:"absent_since"`
	Cover       float64 `json:"canopy_cover_percent"`
	printedAcres
	Assumed    []string `json:"assumed"`
	StemHeight *float64 `json:"stem_height_m"`
	StreamID   string   `json:"stream_id"`
	WaterBody  string   `json:"waterBody"`
	RiverKm    *float64 `json:"river_km"`
}

// printedAcres are a stand's acreages as printed, rounded.
type printedAcres struct {
	Gross    geo.Acres `json:"gross_acres"`
	Infested geo.Acres `json:"infested_acres"`
	Canopy   geo.Acres `json:"canopy_acres"`
	Zone     geo.Acres `json:"zone_acres"`
}

// exactAcres are a stand's acreages without rounding.
type exactAcres struct {
	Gross, Infested, Canopy, Zone geo.Acres
	Ever, Missing                 geo.Acres // of Memory
	Lost                          bool
}

// memory is what the chain remembers of a stand. If the folder's version did not write it, it is
// computed from the stand alone.
func (e exactAcres) memory(k *lineage.Known) lineage.Memory {
	m := lineage.Memory{Ever: e.Ever.SquareMeters().Grains(), Missing: e.Missing.SquareMeters().Grains(), Lost: e.Lost}
	if k.Since != (survey.Quarter{}) && e.Ever == 0 {
		m.Missing = k.InfestedAcres()
	}
	m.Ever = max(m.Ever, k.InfestedAcres())
	return m
}

// exactOf reads the exact acreages from the text before a feature's geometry. If the folder's version
// did not write them, the printed ones are used.
func exactOf(head []byte, printed printedAcres) (exactAcres, error) {
	var exact exactAcres
	_, text, found := bytes.Cut(head, []byte(exactMark))
	if !found {
		return exactAcres{Gross: printed.Gross, Infested: printed.Infested, Canopy: printed.Canopy, Zone: printed.Zone}, nil
	}
	if json.Unmarshal(text, &exact) != nil {
		return exact, errors.New("its exact acres cannot be read")
	}
	return exact, nil
}

// printedAs returns an error if a printed figure does not agree with the exact one.
func (e exactAcres) printedAs(printed printedAcres) error {
	for _, f := range []struct {
		name           string
		exact, printed geo.Acres
	}{
		{field.GrossAcres, e.Gross, printed.Gross}, {field.InfestedAcres, e.Infested, printed.Infested},
		{field.CanopyAcres, e.Canopy, printed.Canopy}, {field.ZoneAcres, e.Zone, printed.Zone},
	} {
		if wrong := verify.Printed(f.name, float64(f.printed), float64(f.exact)); wrong != "" {
			return errors.New(wrong)
		}
	}
	return nil
}

// knownApiece is the number of stands read in one task. Our choice: some milliseconds of work.
const knownApiece = 64

// known reads the stands of a layer in its order, with up to the given number of workers.
func (e *opened) known(name string, workers int) ([]lineage.Known, error) {
	var parts [][]lineage.Known
	var tasks parallel.Group
	tasks.SetLimit(max(1, workers))
	var pending [][3][]byte
	hand := func() {
		lines, part := pending, make([]lineage.Known, len(pending))
		parts, pending = append(parts, part), nil
		tasks.Go(func() (err error) {
			for i, line := range lines {
				if part[i], err = knownOf(line[0], line[1], line[2]); err != nil {
					return err
				}
			}
			return nil
		})
	}
	err := e.check(name, func(r io.Reader) error {
		err := features(r, func(head, geometry, properties []byte) error {
			if pending = append(pending, [3][]byte{bytes.Clone(head), bytes.Clone(geometry), bytes.Clone(properties)}); len(pending) == knownApiece {
				hand()
			}
			return nil
		})
		hand()
		if wrong := tasks.Wait(); wrong != nil {
			return wrong
		}
		return err
	})
	all := slices.Concat(parts...)
	if err == nil {
		e.listed(name, len(all))
	}
	return all, err
}

// knownOf reads one stand.
func knownOf(head, geometry, properties []byte) (lineage.Known, error) {
	var p knownProperties
	if err := json.Unmarshal(properties, &p); err != nil || p.ID == "" {
		return lineage.Known{}, errors.New(unreadableFeature)
	}
	exact, err := exactOf(head, p.printedAcres)
	if err != nil {
		return lineage.Known{}, fmt.Errorf("stand %s: %w", p.ID, err)
	}
	k := lineage.Known{
		Stand: stand.Stand{
			ID: p.ID, Isolated: p.Isolated, Gross: exact.Gross.SquareMeters(), Infested: exact.Infested.SquareMeters(),
			Canopy: exact.Canopy.SquareMeters(), CoverPercent: p.Cover, StemHeight: geo.Meters(orNaN(p.StemHeight)),
		},
		Zone: exact.Zone.SquareMeters(), StreamID: p.StreamID, WaterBody: p.WaterBody, RiverKm: geo.Kilometers(orNaN(p.RiverKm)),
	}
	for _, name := range p.Assumed {
		if name == stand.AssumedPatch || name == stand.AssumedCover { // other assumptions are found anew
			k.Assumed = append(k.Assumed, name)
		}
	}
	known := false
	if k.Status, known = survey.ParseStatus(p.Status); !known {
		return k, fmt.Errorf("stand %s: no status is %q", p.ID, p.Status)
	}
	found := p.Quarter
	switch {
	case p.LastQuarter != "":
		found = p.LastQuarter
	case p.CarriedFrom != "":
		found = p.CarriedFrom
	}
	var wrong [5]error
	k.Quarter, wrong[0] = survey.ParseQuarter(found)
	if p.AbsentSince != "" {
		k.Since, wrong[1] = survey.ParseQuarter(p.AbsentSince)
	}
	k.Memory = exact.memory(&k)
	k.First, wrong[2] = dayOf(p.First)
	k.Last, wrong[3] = dayOf(p.Last)
	wrong[4] = footprint(&k, geometry)
	if wrong[4] == nil {
		wrong[4] = cmp.Or(plausible(&k), exact.printedAs(p.printedAcres))
	}
	for _, err := range wrong {
		if err != nil {
			return k, fmt.Errorf("stand %s: %w", p.ID, err)
		}
	}
	return k, nil
}

// footprint reads a stand's footprint and center. A footprint cut at the antimeridian is joined again.
func footprint(k *lineage.Known, geometry []byte) error {
	areas, err := polygonsOf(geometry)
	if err != nil || len(areas) == 0 {
		return err
	}
	var corners []orb.Point
	for _, polygon := range areas {
		corners = append(corners, polygon[0]...)
	}
	k.Center = earth.Center(corners)
	if box := areas.Bound(); box.Max[0]-box.Min[0] > 180 {
		frame := earth.NewFrame(k.Center)
		var parts []orb.MultiPolygon
		for _, polygon := range areas {
			valid, _ := shape.MakeValid(frame.Project(orb.MultiPolygon{polygon}))
			parts = append(parts, valid)
		}
		areas = frame.Unproject(shape.Union(parts, 1))
	}
	k.Footprint = stand.Pack(areas)
	return nil
}

func orNaN(v *float64) float64 {
	if v == nil {
		return math.NaN()
	}
	return *v
}

// dayOf reads a date as the program prints it; the zero time for none.
func dayOf(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	day, err := time.Parse(time.DateOnly, text)
	if err != nil {
		return day, fmt.Errorf("%q is no day", text)
	}
	return day, nil
}
