package settings

// Keys that the code uses by name.
const (
	// noticeKey is the setting on which notices depend.
	noticeKey = "treatment.notice_m"

	// permitKey is the setting with the text of a requirement, which affects no figure.
	permitKey = "treatment.permit"

	// dryKey is the setting on which lines with a flow_permanence depend.
	dryKey = "drift.dry_at_base"

	// correlationKey is the setting on which a trend's verdicts depend, and no acreage.
	correlationKey = "trend.serial_correlation"

	// budgetKey is the setting that asks for a plan.
	budgetKey = "plan.budget"
)

// Prefixes of the keys of one table.
const (
	planPrefix       = "plan."        // the plan
	lineagePrefix    = "lineage."     // continuing an earlier batch
	floodPrefix      = "drift.flood_" // the flood stage
	crewPrefix       = "crew."        // the crew sheets, on which no figure depends
	reportPrefix     = "report."      // texts of the pages, on which no figure depends
	surveyNextPrefix = "survey_next." // the list of where to survey next, on which no figure of stands depends
)
