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

// knownProperties is what is read of a stand, present or absent.
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

// printedAcres are a stand's acreages as they are printed.
type printedAcres struct {
	Gross    geo.Acres `json:"gross_acres"`
	Infested geo.Acres `json:"infested_acres"`
	Canopy   geo.Acres `json:"canopy_acres"`
	Zone     geo.Acres `json:"zone_acres"`
}

// exactAcres are a stand's acreages as they are, not as they are printed.
type exactAcres struct {
	Gross, Infested, Canopy, Zone geo.Acres
	Ever, Missing                 geo.Acres // of Memory
	Lost                          bool
}

// memory is what the chain remembers of a stand: of folders of the version that
// wrote none, no more than the stand itself tells.
func (e exactAcres) memory(k *lineage.Known) lineage.Memory {
	m := lineage.Memory{Ever: e.Ever.SquareMeters().Grains(), Missing: e.Missing.SquareMeters().Grains(), Lost: e.Lost}
	if k.Since != (survey.Quarter{}) && e.Ever == 0 {
		m.Missing = k.InfestedAcres()
	}
	m.Ever = max(m.Ever, k.InfestedAcres())
	return m
}

// exactOf reads them from the text before a feature's geometry. Folders of the
// version that wrote none are taken at what they printed.
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

// printedAs says which figure is not what is printed of it.
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

// knownApiece is how many stands are read as one task. Our choice: some
// milliseconds of work.
const knownApiece = 64

// known reads the stands of a layer, by up to so many workers at once, in its order.
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
			Canopy: exact.Canopy.SquareMeters(), CoverPercent: p.Cover, StemHeight: orNaN(p.StemHeight),
		},
		Zone: exact.Zone.SquareMeters(), StreamID: p.StreamID, WaterBody: p.WaterBody, RiverKm: geo.Kilometers(orNaN(p.RiverKm)),
	}
	for _, name := range p.Assumed {
		if name == stand.AssumedPatch || name == stand.AssumedCover { // others are found anew
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

// footprint reads a stand's footprint and its middle. One cut at the antimeridian
// is joined again.
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

// dayOf reads a day as the program prints it, the zero time for none.
func dayOf(text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	return time.Parse(time.DateOnly, text)
}
