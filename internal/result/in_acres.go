package result

import "driftreach/geo"

// InAcres formats grains as acres for a reader, where no run says how many decimals to print.
func InAcres(grains int64) string { return geo.AcresText(grains, geo.GrainDecimals) }
