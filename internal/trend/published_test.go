package trend

import (
	"math"
	"testing"
)

// conecuh is the annual mean flow of the Conecuh River at Brantley, 1941 to 1960, in
// cubic feet a second: Helsel and Hirsch, Statistical Methods in Water Resources
// (2002), appendix C2; data set ConecuhFlows of the U.S. Geological Survey's smwrData.
var conecuh = []float64{369, 683, 923, 1193, 413, 1025, 894, 859, 1157, 524, 327, 574, 762, 578, 379, 374, 581, 581, 530, 929}

// klamath is total phosphorus of the Klamath River, mg/L, by month of 1972 to 1979, the
// months without a sample left out: Smith, Hirsch and Slack, A study of trends in total
// phosphorus measurements at NASQAN stations (1982); data set KlamathTP of smwrData,
// what is below the detection limit taken as 0.
var klamath = [][]float64{
	{0.07, 0.33, 0.7, 0.08, 0.04, 0.05, 0.14, 0.08},
	{0.11, 0.24, 0.17, 0.11, 0.04},
	{0.6, 0.12, 0.16, 0.14, 0.03, 0.02, 0.02},
	{0.1, 0.08, 1.2, 0.11, 0.05, 0.04, 0.06, 0.01},
	{0.04, 0.03, 0.12, 0.09, 0.02, 0.04, 0.03, 0.03},
	{0.05, 0, 0.05, 0.05, 0.03},
	{0.04, 0.04, 0.03, 0.02, 0.06, 0.02, 0.04},
	{0.05, 0.06, 0.03, 0.05, 0.07, 0.08, 0.06, 0.02},
	{0.1, 0.09, 0.06, 0.1, 0.08, 0.05},
	{0.13, 0.13, 0.12, 0.13, 0.13, 0.09, 0.1, 0.33},
	{0.14, 0.42, 0.47, 0.14},
	{0.13, 0.15, 0.12, 0.05, 0.3, 0.07},
}

// Published: Lorenz, Trends Examples (smwrStats, U.S. Geological Survey): tau -0.12137,
// p 0.4751. Its tau divides by the geometric mean of all pairs and of those not tied,
// 190 and 189.
func TestConecuhFlows(t *testing.T) {
	got := MannKendall(conecuh)
	if tau := float64(got.S) / math.Sqrt(190*189); !near(tau, -0.12137, 5e-6) || !near(got.P, 0.4751, 5e-5) {
		t.Errorf("tau %.5f, p %.4f: %+v", tau, got.P, got)
	}
}

// Published there too: seasonal Kendall of twelve months, tau -0.2605, p 0.005624, not
// corrected for serial correlation, a fall of about 0.005 mg/L a year.
func TestKlamathPhosphorus(t *testing.T) {
	got := seasonalKendall(klamath)
	if !near(got.Tau, -0.2605, 5e-5) || !near(got.P, 0.005624, 5e-7) {
		t.Errorf("%+v", got)
	}
}
