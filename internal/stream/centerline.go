// Package stream defines a stream centerline and checks it.
package stream

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Divergence is a centerline's role where the stream divides.
type Divergence uint8

// The roles, numbered as in the divergence column.
const (
	NoDivergence Divergence = iota
	MainPath
	MinorPath
)

// Barrier is the barrier at a centerline's downstream end.
type Barrier string

// The barriers, in the words of the barrier column.
const (
	NoBarrier Barrier = ""
	Dam       Barrier = "dam"
	Reservoir Barrier = "reservoir"
	Weir      Barrier = "weir"
	Culvert   Barrier = "culvert"
)

// Centerline is one stream line, read and checked. Each part of a MultiLineString becomes a
// centerline. NaN means not recorded, unless a field says otherwise.
type Centerline struct {
	ID            string         // stream_id; parts of one feature get "#2", "#3" after it
	Name          string         // the feature's place in the file, counted from 1
	File          string         // as the user named it
	Row           int            // the feature's place there, counted from 1
	Path          orb.LineString // WGS 84 degrees, digitised downstream
	FromNode      string         // blank when the source has no topology
	ToNode        string
	Sequence      float64 // hydroseq: decreases downstream
	Divergence    Divergence
	FlowShare     geo.Share
	Order         int                      // stream_order; 0 means not recorded
	BankfullWidth geo.Meters               // bankfull_width_m; 0 means not recorded
	MeanVelocity  geo.MetersPerSecond      // mean_velocity_mps
	Drainage      geo.SquareKilometers     // drainage_km2
	Discharge     geo.CubicMetersPerSecond // discharge_m3s
	MeanDischarge geo.CubicMetersPerSecond // mean_discharge_m3s
	Slope         float64                  // metres per metre
	Rises         bool                     // set by Check: the recorded slope is below 0
	Barrier       Barrier
	BarrierPass   geo.Share            // share of floating material that passes
	Length        geo.Meters           // recorded length (mapped column length_km); 0 means measure the path
	LocalArea     geo.SquareKilometers // recorded local catchment (mapped column catchment_km2); NaN when none
	FeatureType   string               // feature_type, in the source's words; Coastline keeps the line out of the flow network
	Permanence    Permanence           // flow_permanence: the part of the year with water; blank means not recorded
	Coast         bool                 // set by Check: outside the flow network; water that reaches it has arrived
}
