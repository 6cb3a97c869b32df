package settings

// Keys that are asked for by name.
const (
	// noticeKey is the setting that notices rest on.
	noticeKey = "treatment.notice_m"

	// permitKey is the setting with the words of a requirement, and no figure.
	permitKey = "treatment.permit"

	// dryKey is the setting that lines with a flow_permanence rest on.
	dryKey = "drift.dry_at_base"

	// correlationKey is the setting that verdicts on a trend rest on, and no acreage.
	correlationKey = "trend.serial_correlation"

	// budgetKey is the setting without which there is no plan.
	budgetKey = "plan.budget"
)

// Beginnings of keys, each of one table.
const (
	planPrefix       = "plan."        // what a plan rests on
	lineagePrefix    = "lineage."     // what continuing an earlier batch rests on
	crewPrefix       = "crew."        // what a crew takes along, on which no figure rests
	reportPrefix     = "report."      // what the pages say, on which no figure rests
	surveyNextPrefix = "survey_next." // what the list of where to look next rests on, and no figure of stands
)
