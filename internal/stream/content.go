package stream

import (
	"cmp"
	"slices"
	"strings"

	"driftreach/geo"
)

// compareContent orders lines by all values except file, row and id.
func compareContent(a, b *Centerline) int {
	if c := slices.CompareFunc(a.Path, b.Path, geo.ComparePoints); c != 0 {
		return c
	}
	return cmp.Or(
		strings.Compare(a.Name, b.Name),
		strings.Compare(a.FromNode, b.FromNode),
		strings.Compare(a.ToNode, b.ToNode),
		cmp.Compare(a.Sequence, b.Sequence),
		cmp.Compare(a.Divergence, b.Divergence),
		cmp.Compare(a.FlowShare, b.FlowShare),
		cmp.Compare(a.Order, b.Order),
		cmp.Compare(a.BankfullWidth, b.BankfullWidth),
		cmp.Compare(a.MeanVelocity, b.MeanVelocity),
		cmp.Compare(a.Drainage, b.Drainage),
		cmp.Compare(a.Discharge, b.Discharge),
		cmp.Compare(a.MeanDischarge, b.MeanDischarge),
		cmp.Compare(a.Slope, b.Slope),
		geo.CompareBools(a.Rises, b.Rises),
		cmp.Compare(a.Barrier, b.Barrier),
		cmp.Compare(a.BarrierPass, b.BarrierPass),
		cmp.Compare(a.Length, b.Length),
		cmp.Compare(a.LocalArea, b.LocalArea),
		strings.Compare(a.FeatureType, b.FeatureType),
		cmp.Compare(a.Permanence, b.Permanence),
	)
}
