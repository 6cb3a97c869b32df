package verify

import (
	"driftreach/internal/folder"
	"driftreach/internal/mapfile"
)

// Files of a batch whose figures are compared with those of other files.
const (
	manifestFile = folder.ManifestName

	summaryFile   = mapfile.SummaryFile
	standsFile    = mapfile.StandsFile
	standsTable   = mapfile.StandsTable
	absentFile    = mapfile.AbsentFile
	historyFile   = mapfile.HistoryFile // the summaries of a chain, by quarter
	orderTable    = mapfile.OrderFile
	unitsTable    = mapfile.UnitsFile // the reporting units of stands
	workTable     = mapfile.WorkFile
	productsTable = mapfile.ProductsFile
	waterTable    = mapfile.WaterWorkFile // work at the water
)

// Tables of a trend's folder.
const (
	trendTable  = folder.TrendFile
	seriesTable = "series.csv"
)
