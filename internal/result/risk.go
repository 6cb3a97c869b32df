package result

// What at risk and possible mean, in the words of the dictionary, the map's
// folders, the page and the README.
const (
	RiskRule = "Stream is at risk where, of what one source (a survey point) released, at least drift.risk_share may still be afloat, " +
		"the flow split where it parts and summed where branches meet again, and where what floats of all sources together is moderate or high."
	ReachRule    = "A stand's reach is the union over its sources."
	PossibleRule = "Possible is stream that is not at risk but that one fragment could come to, along the best single path with the flow not split; " +
		"treatment order and links between stands count it."
	HoursRule = "Hours are those of the stand whose fragments come first to the piece's downstream end, of the stands whose reach covers it."
)
