package trend

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"pgregory.net/rapid"
)

// quarterly is the worked example: five years of four quarters of acres. Its results are recomputed
// independently in the tests below and by SciPy 1.10.1.
var quarterly = [][]float64{
	{12.0, 11.5, 11.8, 10.2, 9.8},
	{14.5, 14.0, 13.1, 12.6, 12.0},
	{16.0, 15.2, 15.2, 14.1, 13.5},
	{13.0, 12.8, 12.1, 11.9, 12.0},
}

// handbook is the data of Helsel and Hirsch, Statistical Methods in Water Resources (1992), chapter
// 8, in the order of x, as quoted to us; S, p and z are derived again below, and by counting every
// order in the tests of the exact p.
var handbook = []float64{1.22, 2.20, 4.80, 1.28, 1.97, 1.46, 2.64, 2.34, 4.84, 2.96}

func near(got, want, within float64) bool { return math.Abs(got-want) <= within }

// Published: Helsel and Hirsch, chapter 8: S 21, exact p twice .0363, z 1.789 =
// 20 / sqrt(125).
func TestMannKendallOfTheHandbook(t *testing.T) {
	got := MannKendall(handbook)
	if got.S != 21 || got.N != 10 || got.Pairs != 45 || !got.Exact || !near(got.Variance, 125, 1e-12) {
		t.Errorf("%+v", got)
	}
	if !near(got.P, 0.0726, 5e-5) || !near(got.Z, 1.789, 5e-4) || !near(got.Tau, 21.0/45, 1e-12) {
		t.Errorf("p %v, z %v, tau %v", got.P, got.Z, got.Tau)
	}
}

// Derived by hand: S -8 -10 -9 -8 = -35 of 40 pairs; variance 4 x 50/3 less 1 for
// the tie in the third quarter; p from the normal distribution, SciPy 1.10.1.
func TestSeasonalKendallOfTheWorkedExample(t *testing.T) {
	got := seasonalKendall(quarterly)
	if got.S != -35 || got.N != 20 || got.Pairs != 40 || got.Exact {
		t.Errorf("%+v", got)
	}
	for _, c := range []struct {
		name              string
		got, want, within float64
	}{
		{"variance", got.Variance, 65.6667, 5e-5}, {"z", got.Z, -4.195719, 5e-7},
		{"p", got.P, 2.72007e-05, 5e-11}, {"tau", got.Tau, -0.875, 0},
	} {
		if !near(c.got, c.want, c.within) {
			t.Errorf("%s %v, want %v", c.name, c.got, c.want)
		}
	}
}

// oracleCase is one of SciPy's results; see scripts/oracle_trend.py.
type oracleCase struct {
	Name      string
	Seasons   [][][2]float64
	S, Pairs  int
	PNormal   float64  `json:"p_normal"`
	PExact    *float64 `json:"p_exact"`
	Slope     float64
	Intercept *float64
}

func oracle(t *testing.T) []oracleCase {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "trend", "kendall.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct{ Cases []oracleCase }
	if err := json.Unmarshal(text, &file); err != nil || len(file.Cases) < 30 {
		t.Fatalf("%d cases, %v", len(file.Cases), err)
	}
	return file.Cases
}

func (c oracleCase) samples() [][]Sample {
	out := make([][]Sample, len(c.Seasons))
	for i, season := range c.Seasons {
		for _, x := range season {
			out[i] = append(out[i], Sample{x[0], x[1]})
		}
	}
	return out
}

// Reference program: SciPy 1.10.1, scripts/oracle_trend.py. Its normal p also
// holds the exact cases' variance.
func TestTestsOfSciPy(t *testing.T) {
	for _, c := range oracle(t) {
		got := seasonalKendall(values(c.samples()))
		if got.S != c.S || got.Pairs != c.Pairs || got.Exact != (c.PExact != nil) {
			t.Errorf("%s: %+v, want S %d of %d", c.Name, got, c.S, c.Pairs)
		}
		if c.PExact != nil && !near(got.P, *c.PExact, 1e-12) {
			t.Errorf("%s: exact p %v, want %v", c.Name, got.P, *c.PExact)
		}
		if p := normalP(deviations(got.S, got.Variance)); !near(p, c.PNormal, 1e-9) {
			t.Errorf("%s: normal p %v, want %v", c.Name, p, c.PNormal)
		}
	}
}

// A test depends only on the order of values: a shift, a change of unit or of scale changes
// nothing, and a mirror image gives the opposite.
func TestKendallProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seasons := rapid.SliceOfN(rapid.SliceOfN(rapid.Map(rapid.IntRange(0, 9), func(n int) float64 { return float64(n) }), 0, 7), 1, 4).Draw(t, "seasons")
		shift := float64(rapid.IntRange(-50, 50).Draw(t, "shift"))
		times := rapid.Float64Range(0.01, 100).Draw(t, "scale")
		base := seasonalKendall(seasons)
		change := func(of func(float64) float64) Test {
			out := make([][]float64, len(seasons))
			for i, s := range seasons {
				for _, v := range s {
					out[i] = append(out[i], of(v))
				}
			}
			return seasonalKendall(out)
		}
		if got := change(func(v float64) float64 { return v*times + shift }); got != base {
			t.Fatalf("scaled %+v, was %+v", got, base)
		}
		flipped := change(func(v float64) float64 { return -v })
		if flipped.S != -base.S || flipped.Z != -base.Z || flipped.P != base.P || flipped.Tau != -base.Tau || flipped.Variance != base.Variance {
			t.Fatalf("mirrored %+v, was %+v", flipped, base)
		}
		if !(base.P > 0 && base.P <= 1) || base.LeastP > base.P+1e-12 && len(tieGroups(seasons[0])) == 0 && len(seasons) == 1 {
			t.Fatalf("p %v, least %v", base.P, base.LeastP)
		}
		if abs(base.S) > base.Pairs || base.Variance < 0 || base.Variance == 0 && (base.S != 0 || base.Z != 0) {
			t.Fatalf("%+v", base)
		}
	})
}

// Above the exact limit p is the normal one: by hand, eleven rising values.
func TestNormalAboveTen(t *testing.T) {
	rise := make([]float64, 11)
	for i := range rise {
		rise[i] = float64(i)
	}
	got := MannKendall(rise)
	// S 55, variance 11 x 10 x 27 / 18 = 165, z 54 / sqrt(165).
	if got.Exact || got.S != 55 || !near(got.Variance, 165, 1e-12) || !near(got.Z, 54/math.Sqrt(165), 1e-12) || got.P != got.LeastP {
		t.Errorf("%+v", got)
	}
}

func TestKendallOfNextToNothing(t *testing.T) {
	for name, values := range map[string][]float64{"none": nil, "one": {3}} {
		if got := MannKendall(values); got.S != 0 || got.P != 1 || got.Z != 0 || got.Tau != 0 || got.LeastP != 1 {
			t.Errorf("%s: %+v", name, got)
		}
	}
	if got := MannKendall([]float64{5, 5, 5, 5, 5, 5}); got.P != 1 || got.Variance != 0 || got.Z != 0 {
		t.Errorf("all equal: %+v", got)
	}
	if got := MannKendall(make([]float64, 12)); got.P != 1 || got.Exact {
		t.Errorf("twelve equal: %+v", got)
	}
}

func BenchmarkTenYears(b *testing.B) {
	season := make([]float64, 10)
	for i := range season {
		season[i] = float64(i * 7 % 10)
	}
	seasons := [][]float64{season, season, season, season}
	for b.Loop() {
		seasonalKendall(seasons)
	}
}

// Printed: the tests of the U.S. Geological Survey's smwrStats, tests/testthat/
// test_tests.R: sixteen values, as one series (tau) and as two seasons (tau and p).
func TestPrintedValuesOfTheSurvey(t *testing.T) {
	values := []float64{3, 2, 13, 6, 1, 5, 15, 7, 10, 4, 9, 11, 8, 12, 14, 16}
	if got := MannKendall(values); !near(got.Tau, 0.483333333, 1e-9) {
		t.Errorf("one series: tau %v", got.Tau)
	}
	seasons := make([][]float64, 2)
	for i, v := range values {
		seasons[i%2] = append(seasons[i%2], v)
	}
	if got := seasonalKendall(seasons); !near(got.Tau, 0.42857, 5e-6) || !near(got.P, 0.04421, 5e-6) {
		t.Errorf("two seasons: tau %v, p %v", got.Tau, got.P)
	}
}

// MannKendall tests values in time order for change in one direction. The values must be finite;
// equal ones are ties. Up to exactUpTo values P is the share of all orders of these values whose
// |S| is at least as large, ties included; above, it is the normal approximation with tie and
// continuity correction (Mann 1945; Kendall 1975, chapter 4). Cost is the square of the number.
func MannKendall(values []float64) Test { return seasonalKendall([][]float64{values}) }
