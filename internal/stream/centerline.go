// Package stream says what a stream centerline is and checks it.
package stream

import (
	"github.com/paulmach/orb"

	"driftreach/geo"
)

// Divergence is a centerline's part where the water parts.
type Divergence uint8

// The parts, numbered as in the divergence column.
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

// Centerline is one stream line, read and checked: a part of a
// MultiLineString makes a centerline of its own. NaN means not recorded
// wherever a field is a float64.
type Centerline struct {
	ID            string         // stream_id; parts of one feature get "#2", "#3" after it
	Name          string         // waterBody
	File          string         // as the user named it
	Row           int            // the feature's place there, counted from 1
	Path          orb.LineString // WGS 84 degrees, digitised downstream
	FromNode      string         // blank when the source has no topology
	ToNode        string
	Sequence      float64 // hydroseq: falls on the way down
	Divergence    Divergence
	FlowShare     float64    // 0..1
	Order         int        // stream_order; 0 means not recorded
	BankfullWidth geo.Meters // bankfull_width_m; 0 means not recorded
	MeanVelocity  float64    // mean_velocity_mps
	Drainage      float64    // drainage_km2
	Discharge     float64    // discharge_m3s
	MeanDischarge float64    // mean_discharge_m3s
	Slope         float64    // metres per metre
	Rises         bool       // set by Check: the recorded slope is below 0
	Barrier       Barrier
	BarrierPass   float64    // share of what floats that passes, 0..1
	Length        geo.Meters // recorded length (mapped column length_km); 0 means measure the path
	LocalArea     float64    // recorded local catchment (mapped column catchment_km2); NaN when none
	FeatureType   string     // feature_type, the source's own word; Coastline keeps the line out of the flow network
	Permanence    Permanence // flow_permanence: for how much of the year it has water; blank means not recorded
	Coast         bool       // set by Check: outside the flow network, water that comes to it has arrived
}
