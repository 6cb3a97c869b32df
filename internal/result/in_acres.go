package result

import "driftreach/geo"

// InAcres writes grains of acres for a reader, where there is no run to print them.
func InAcres(grains int64) string { return geo.AcresText(grains, geo.GrainDecimals) }
