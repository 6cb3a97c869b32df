package mapfile

// The files of a batch that something reads again: the next batch, a trend, or the verification of the
// folder.
const (
	StandsFile    = "stands.geojson"
	StandsTable   = "stands.csv"
	AbsentFile    = "absent.geojson"
	LookedFile    = "looked_at.geojson"
	PointsFile    = "points.geojson"
	ReachesFile   = "reaches.geojson"
	ReachesTable  = "reaches.csv"
	NoticesFile   = "notices.geojson"
	NoticesTable  = "notices.csv"
	OrderFile     = "order.csv"
	UnitsFile     = "stand_units.csv"
	ZoneFile      = "aquatic_zone.geojson"
	SummaryFile   = "summary.csv"
	HistoryFile   = "history.csv"
	EverFile      = "ever_mapped.csv"
	LineageFile   = "lineage.csv"
	ChangesFile   = "stand_changes.csv"
	BackFile      = "taken_back.csv"
	FollowupFile  = "followup.csv"
	CalendarFile  = "followup.ics"
	WorkFile      = "work_done.csv"
	ProductsFile  = "products_used.csv"
	NextFile      = "survey_next.geojson"
	WaterWorkFile = "water_work.csv"
)

// Roles of a manifest's inputs that a program reads again, beside the kinds of input (intake.Roles).
const (
	PreviousRole = "previous" // files of the batch that this one continues
	BatchRole    = "batch"    // files of the batches that a trend or the answers of a chain are made from
)
