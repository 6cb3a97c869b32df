package settings

var trendTable = []Setting{
	{correlationKey, "", Assumed, "correlation of neighbouring quarters that a test for a trend allows for; from 40 quarters on, the larger of this and the measured one",
		"our choice: estimated from so few quarters it gives false trends in 12 to 27 % of trendless series, this value in 1 to 5 %, by scripts/verdicts", within(0, 0.9),
		func(s *Settings) any { return &s.Trend.Correlation }},
}
