package earth

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
)

// projJSON has the members of PROJJSON that are read
// (https://proj.org/specifications/projjson.html).
type projJSON struct {
	Type       string      `json:"type"`
	Name       string      `json:"name"`
	Components []projJSON  `json:"components"`
	Base       *projJSON   `json:"base_crs"`
	Source     *projJSON   `json:"source_crs"`
	Datum      *datumJSON  `json:"datum"`
	Ensemble   *datumJSON  `json:"datum_ensemble"`
	Conversion *methodJSON `json:"conversion"`
	Shift      *methodJSON `json:"transformation"`
	System     struct {
		Axis []struct {
			Direction string          `json:"direction"`
			Unit      json.RawMessage `json:"unit"`
		} `json:"axis"`
	} `json:"coordinate_system"`
}

type datumJSON struct {
	Name      string `json:"name"`
	Ellipsoid struct {
		A       json.RawMessage `json:"semi_major_axis"`
		B       json.RawMessage `json:"semi_minor_axis"`
		Inverse float64         `json:"inverse_flattening"`
		Radius  json.RawMessage `json:"radius"`
	} `json:"ellipsoid"`
	Meridian struct {
		Longitude json.RawMessage `json:"longitude"`
	} `json:"prime_meridian"`
}

type methodJSON struct {
	Method struct {
		Name string `json:"name"`
	} `json:"method"`
	Parameters []struct {
		Name  string          `json:"name"`
		Value float64         `json:"value"`
		Unit  json.RawMessage `json:"unit"`
	} `json:"parameters"`
}

func parsePROJJSON(text string) (CRS, error) {
	var j projJSON
	if err := json.Unmarshal([]byte(text), &j); err != nil {
		return CRS{}, fmt.Errorf("the definition is no PROJJSON (%v): %w", err, ErrUnsupported)
	}
	d, err := j.definition(0)
	if err != nil {
		return CRS{}, err
	}
	return d.build()
}

func (j *projJSON) definition(depth int) (*definition, error) {
	switch {
	case depth > 3:
	case len(j.Components) > 0:
		return j.Components[0].definition(depth + 1)
	case j.Source != nil && j.Shift != nil:
		return j.bound(depth)
	case j.Base != nil && j.Conversion != nil:
		return j.projected(depth)
	case j.Datum != nil || j.Ensemble != nil:
		return j.geographic()
	}
	return nil, fmt.Errorf("%q of type %q is no geographic or projected system: %w", j.Name, j.Type, ErrUnsupported)
}

func (j *projJSON) bound(depth int) (*definition, error) {
	d, err := j.Source.definition(depth + 1)
	if err != nil {
		return nil, err
	}
	d.shift = []float64{}
	for _, p := range j.Shift.Parameters {
		d.shift = append(d.shift, p.Value)
	}
	return d, nil
}

func (j *projJSON) geographic() (*definition, error) {
	datum := j.Datum
	if datum == nil {
		datum = j.Ensemble
	}
	d := &definition{name: j.Name, datum: datum.Name, unit: 1}
	e := datum.Ellipsoid
	d.ellipsoid.A, _ = quantity(e.A)
	switch b, ok := quantity(e.B); {
	case e.Inverse != 0:
		d.ellipsoid.F = 1 / e.Inverse
	case ok:
		d.ellipsoid.F = 1 - b/d.ellipsoid.A
	}
	if radius, ok := quantity(e.Radius); ok {
		d.ellipsoid = Ellipsoid{A: radius}
	}
	d.meridian, _ = quantity(datum.Meridian.Longitude)
	if len(j.System.Axis) > 0 {
		if factor, angle := jsonUnit(j.System.Axis[0].Unit); angle {
			d.unit = factor
		}
	}
	return d, nil
}

func (j *projJSON) projected(depth int) (*definition, error) {
	d, err := j.Base.definition(depth + 1)
	if err != nil {
		return nil, err
	}
	d.name, d.method, d.unit = j.Name, j.Conversion.Method.Name, 1
	for i, axis := range j.System.Axis {
		d.axes = append(d.axes, strings.ToLower(axis.Direction))
		if i == 0 {
			d.unit, _ = jsonUnit(axis.Unit)
		}
	}
	for _, p := range j.Conversion.Parameters {
		factor, _ := jsonUnit(p.Unit)
		d.set(p.Name, p.Value*factor)
	}
	return d, nil
}

// quantity reads a number, or an object of value and unit.
func quantity(raw json.RawMessage) (float64, bool) {
	var v float64
	if json.Unmarshal(raw, &v) == nil {
		return v, true
	}
	var q struct {
		Value float64         `json:"value"`
		Unit  json.RawMessage `json:"unit"`
	}
	if raw == nil || json.Unmarshal(raw, &q) != nil {
		return 0, false
	}
	factor, _ := jsonUnit(q.Unit)
	return q.Value * factor, true
}

// jsonUnit returns the metres or degrees of one unit, and whether it is a unit of angle; NaN for an
// unknown unit.
func jsonUnit(raw json.RawMessage) (factor float64, angle bool) {
	var name string
	if len(raw) == 0 || json.Unmarshal(raw, &name) == nil {
		switch name {
		case "", "metre", "unity":
			return 1, false
		case "degree":
			return 1, true
		}
		return math.NaN(), false
	}
	var unit struct {
		Type   string  `json:"type"`
		Factor float64 `json:"conversion_factor"`
	}
	if json.Unmarshal(raw, &unit) != nil {
		return math.NaN(), false
	}
	if unit.Type == "AngularUnit" {
		return snapDegrees(unit.Factor), true
	}
	return snapUnit(unit.Factor), false
}
