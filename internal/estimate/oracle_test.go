package estimate

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

// answers are the results of R 4.2.2 and SciPy 1.10.1, computed by scripts/oracle_estimate.py.
type answers struct {
	Wilson []struct {
		K, N      int
		Low, High float64
	}
	Student []struct{ Degrees, T float64 }
	ROC     []struct {
		Cases, Controls []float64
		Area, Low, High float64
	}
	Rates []struct {
		Counts  []float64
		Causes  [][]float64
		Amounts []float64
		Log     float64
	}
	Turnbull []struct{ After, By, Times, Come []float64 }
	Ratio    []struct {
		Clusters             []int
		Upper, At            []float64
		Value, Low, High     float64
		Jackknife, Bootstrap float64
	}
	Second []struct {
		Both, First, Other int
		Find               float64
	}
	Scale []struct {
		Counts, Scales, Profile []float64
		Down, Up                [][]float64
		Gain                    float64
	}
}

func read(t *testing.T) answers {
	t.Helper()
	data, err := os.ReadFile("../../testdata/estimate/answers.json")
	if err != nil {
		t.Fatal(err)
	}
	var a answers
	if err := json.Unmarshal(data, &a); err != nil {
		t.Fatal(err)
	}
	return a
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

func TestWilsonAgainstSciPy(t *testing.T) {
	for _, c := range read(t).Wilson {
		got := Wilson(c.K, c.N)
		near(t, "low", got.Low, c.Low, 1e-9)
		near(t, "high", got.High, c.High, 1e-9)
	}
	if Wilson(0, 0).Known() {
		t.Error("nothing of nothing is a share")
	}
}

func TestStudentAgainstSciPy(t *testing.T) {
	for _, c := range read(t).Student {
		near(t, "t", Student(c.Degrees), c.T, 1e-8*c.T)
	}
}

func TestCurveAgainstPROC(t *testing.T) {
	for _, c := range read(t).ROC {
		got := Curve(c.Cases, c.Controls)
		near(t, "area", got.Area.Value, c.Area, 1e-12)
		near(t, "low", got.Area.Low, c.Low, 1e-9)
		near(t, "high", got.Area.High, c.High, 1e-9)
		under := 0.0 // area under the curve, by the trapezoidal rule
		for i := 1; i < len(got.Points); i++ {
			a, b := got.Points[i-1], got.Points[i]
			under += (b.Controls - a.Controls) * (a.Cases + b.Cases) / 2
		}
		near(t, "area under the points", under, c.Area, 1e-9)
	}
}

func TestRatesAgainstSciPy(t *testing.T) {
	for _, c := range read(t).Rates {
		r := NewRates(c.Counts, c.Causes...)
		amounts, log := r.Fit()
		near(t, "log likelihood", log, c.Log, 1e-6)
		n, sum := 0.0, 0.0
		for _, y := range c.Counts {
			n += y
		}
		for k, a := range amounts {
			near(t, "amount", a, c.Amounts[k], 2e-3*n)
			sum += a
		}
		near(t, "sum of the amounts", sum, n, 1e-6*n)
	}
}

func TestTurnbullAgainstR(t *testing.T) {
	const within = 5e-4 // R's iteration stops about 4e-4 before the maximum
	told := 0
	for _, c := range read(t).Turnbull {
		var times []Between
		for i := range c.After {
			b := Between{c.After[i], c.By[i], 1}
			if b.By < 0 {
				b.By = math.Inf(1)
			}
			times = append(times, b)
		}
		e := NewTurnbull(times)
		for i, at := range c.Times {
			least, most := e.By(at)
			if most-least < 1e-9 {
				told++
				near(t, "come by then", least, c.Come[i], within)
			} else if c.Come[i] < least-within || c.Come[i] > most+within {
				t.Errorf("by %g: %g to %g, R has %g", at, least, most, c.Come[i])
			}
		}
	}
	if told < 15 {
		t.Errorf("only %d shares were told to the point", told)
	}
}

func TestRatioAgainstR(t *testing.T) {
	for _, c := range read(t).Ratio {
		var parts []Part
		for i := range c.At {
			parts = append(parts, Part{string(rune('a' + c.Clusters[i])), c.Upper[i], c.At[i]})
		}
		got := Ratio(parts)
		near(t, "ratio", got.Value, c.Value, 1e-9)
		near(t, "low", got.Low, c.Low, 1e-7)
		near(t, "high", got.High, c.High, 1e-7)
		if c.Clusters[len(c.Clusters)-1] < 7 {
			continue
		}
		deviation := (got.High - got.Value) / Student(float64(c.Clusters[len(c.Clusters)-1]))
		for _, other := range []float64{c.Jackknife, c.Bootstrap} {
			if deviation < 0.8*other || deviation > 1.25*other {
				t.Errorf("standard error %g, another way %g", deviation, other)
			}
		}
	}
}

func TestFindAgainstSciPy(t *testing.T) {
	for _, c := range read(t).Second {
		near(t, "probability", Second{c.Both, c.First, c.Other}.Find().Value, c.Find, 1e-6)
	}
}

func TestScaleAgainstSciPy(t *testing.T) {
	for _, c := range read(t).Scale {
		s := Spreading{Counts: c.Counts, Scales: c.Scales, Down: c.Down, Up: c.Up, Ground: make([]float64, len(c.Counts))}
		for i := range s.Ground {
			s.Ground[i] = 1
		}
		got := s.Estimate()
		for i, v := range got.Profile {
			near(t, "profile", v, c.Profile[i], 1e-4)
		}
		near(t, "gain", got.Gain, c.Gain, 1e-4)
	}
}

// NewRates returns the model of causes for some counts by row. A cause with a column of zeros gets
// amount 0.
func NewRates(counts []float64, causes ...[]float64) Rates {
	r := Rates{columns: make([][]float64, len(causes))}
	for i, y := range counts {
		if y == 0 {
			continue
		}
		r.counts = append(r.counts, y)
		for k, column := range causes {
			r.columns[k] = append(r.columns[k], column[i])
		}
	}
	for k, column := range causes {
		total := 0.0
		for _, v := range column {
			total += v
		}
		for i := range r.columns[k] {
			if total > 0 {
				r.columns[k][i] /= total
			}
		}
	}
	return r
}
