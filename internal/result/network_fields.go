package result

import (
	"driftreach/geo/flow"
	"driftreach/internal/field"
)

// NetworkTable returns the table of the network's edges in flow order: one row for each stretch of
// stream line between two nodes.
func NetworkTable(run *Run) Table {
	rows := 0
	if run.Network != nil {
		rows = len(run.Network.Net.Edges)
	}
	return Table{
		Name: "network", Title: "One row for each stretch of stream line between places where lines meet, upstream first (with --network)",
		Fields: append(networkPlace(), networkTotals()...), Rows: rows,
	}
}

func edge(r *Run, i int) *flow.Edge { return &r.Network.Net.Edges[i] }

func networkPlace() []Field {
	return []Field{
		{field.StreamID, "Stream line", NoUnit, Text, "Identity of the stream line.", "",
			func(r *Run, i int) Value { return text(r.Line(edge(r, i).Line).ID) }},
		{field.WaterBody, "Stream", NoUnit, Text, "Name of the stream; blank when it has none.", "Darwin Core waterBody [P]",
			func(r *Run, i int) Value { return text(r.Line(edge(r, i).Line).Name) }},
		{"component", "Component", NoUnit, Count, "Connected part of the network, from 0.", "",
			func(r *Run, i int) Value { return count(int(edge(r, i).Component)) }},
		{"stream_order", "Stream order", NoUnit, Count, "River order. A minor path has the order of the line above, and never raises the order below.", "NHDPlus rule [P]",
			func(r *Run, i int) Value { return count(edge(r, i).Order) }},
		{"order_used", "Order used", NoUnit, Count, "The recorded order, else the computed one. Rates and widths depend on it.", "",
			func(r *Run, i int) Value { return count(r.Network.Order[i]) }},
		{"minor_path", "Minor path", NoUnit, Flag, "True where a minor path begins.", "",
			func(r *Run, i int) Value { return flag(edge(r, i).Minor) }},
		{"flow_share_percent", "Flow share", Percent, Number, "Share of the water at its upper end that flows into it, in percent.", "recorded, else by width, else equal [C]",
			func(r *Run, i int) Value { return number(100*edge(r, i).Share, Percent) }},
	}
}

func networkTotals() []Field {
	return []Field{
		{field.RiverKm, "River km", Kilometers, Number, "Distance from its lower end to the outlet along the main path.", "",
			func(r *Run, i int) Value { return number(edge(r, i).OutletKm, Kilometers) }},
		{field.LengthKm, "Length", Kilometers, Number, "Recorded length, else measured on the ellipsoid.", "",
			func(r *Run, i int) Value { return number(edge(r, i).Length.Kilometers(), Kilometers) }},
		{"upstream_km", "Stream upstream", Kilometers, Number, "Length of all stream above its lower end, itself included, each line counted once.", "",
			func(r *Run, i int) Value { return number(edge(r, i).UpstreamKm, Kilometers) }},
		{"drainage_km2", "Drainage area", SquareKilometers, Number, "Sum of the catchments above its lower end, each counted once; blank when none is recorded.", "",
			func(r *Run, i int) Value { return number(edge(r, i).Drainage, SquareKilometers) }},
		{"found", "Found", NoUnit, List, "Findings about the line; findings.csv says what was done about each.", "",
			func(r *Run, i int) Value { return list(r.Network.Found[edge(r, i).Line]) }},
	}
}
