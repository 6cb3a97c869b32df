package stream

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/internal/check"
)

// unordered is the stream order that NHDPlus gives to flowlines outside its flow network, such as a
// coast [P: McKay and others, NHDPlus Version 2 User Guide, StreamOrde].
const unordered = -9

// coastWords are the values of feature_type for a coast: the name, and the codes of feature type
// and feature in the National Hydrography Dataset [P: U.S. Geological Survey, NHD feature catalog].
var coastWords = []string{"coastline", "566", "56600"}

// IsCoast reports whether the recorded values say that the line is a coast or outside the flow
// network: feature_type is Coastline, in any case, or stream_order is -9.
func (l *Centerline) IsCoast() bool {
	word := strings.ToLower(strings.TrimSpace(l.FeatureType))
	return l.Order == unordered || slices.Contains(coastWords, word)
}

// setCoast marks a coast and blanks the attributes of its water: a coast carries none.
func setCoast(l *Centerline) {
	l.Coast = true
	l.FromNode, l.ToNode = "", ""
	l.Divergence, l.Order, l.Barrier, l.Permanence, l.BankfullWidth, l.Length = NoDivergence, 0, NoBarrier, UnknownPermanence, 0, 0
	l.Sequence, l.Slope = math.NaN(), math.NaN()
	l.FlowShare, l.BarrierPass = geo.Share(math.NaN()), geo.Share(math.NaN())
	l.Drainage, l.LocalArea = geo.SquareKilometers(math.NaN()), geo.SquareKilometers(math.NaN())
	l.MeanVelocity = geo.MetersPerSecond(math.NaN())
	l.Discharge, l.MeanDischarge = geo.CubicMetersPerSecond(math.NaN()), geo.CubicMetersPerSecond(math.NaN())
}

// reportCoasts reports, once for each file, how many lines are coasts.
func (c *checker) reportCoasts(lines []Centerline) {
	var files []string
	count, example := map[string]int{}, map[string]string{}
	for i := range lines {
		l := &lines[i]
		if !l.Coast {
			continue
		}
		if count[l.File]++; count[l.File] == 1 {
			files = append(files, l.File)
			example[l.File] = l.ID
		}
	}
	slices.SortFunc(files, cmp.Compare[string])
	for _, file := range files {
		c.Add(check.Finding{Rule: ruleCoast, File: file, Field: "feature_type", Value: example[file], Message: fmt.Sprintf(
			"%d lines are coastline by feature_type or have stream_order -9 (for example %s): they were kept out of the flow network, rivers end there at river km 0, and they make no aquatic zone",
			count[file], example[file])})
	}
}
