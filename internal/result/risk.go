package result

// What at risk and possible mean, for the dictionary, the map's folders, the page and the README.
const (
	RiskRule = "Stream is at risk where at least drift.risk_share of what one source (a survey point) released may still be afloat, " +
		"or where what floats from all sources together is moderate or high. Amounts are split where the flow parts and add up where branches meet again."
	ReachRule    = "A stand's reach is the union over its sources."
	PossibleRule = "Possible is stream that is not at risk but that a single fragment could reach, along its best path and without splitting the flow. " +
		"Treatment order and links between stands use it."
	HoursRule = "Of the stands whose reach covers the piece, hours are those of the one whose fragments reach its downstream end first."
)
