package demo

import "math"

// bankfull returns the bankfull width in metres for a length of stream above, in kilometres. The square
// root is the common downstream law of hydraulic geometry (Leopold and Maddock, USGS Professional Paper
// 252, 1953). The factor is our choice: 24 m at the mouth, 2 m on a brook.
func bankfull(upstreamKm float64) float64 { return 1.7 * math.Sqrt(upstreamKm) }
