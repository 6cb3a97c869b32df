package mapfile

import (
	"io"
	"slices"

	"driftreach/internal/result"
)

// Deliverables returns every deliverable, in the order in which they are listed to the user.
func Deliverables(with Extras) []Deliverable {
	all := []Deliverable{
		OneFile("map.kmz", "map for any viewer", placemarks, WriteKMZ).Taking(Long),
		OneFile(StandsFile, "stands", func(r *result.Run) int { return len(r.Stands) }, alone(WriteStands)).Taking(Long),
		packable(with.Packed, PointsFile, "survey points", func(r *result.Run) int { return r.Records.Len() }, WritePoints),
		packable(with.Packed, ZoneFile, "aquatic zone", func(r *result.Run) int { return len(r.Zones) }, WriteZone),
		packable(with.Packed, ReachesFile, "reach at risk", func(r *result.Run) int { return len(r.Reaches) }, WriteReaches),
		OneFile(StandsTable, "table of stands", func(r *result.Run) int { return len(r.Stands) }, alone(WriteStandsCSV)),
		OneFile(ReachesTable, "table of reaches", func(r *result.Run) int { return len(r.Reaches) }, alone(WriteReachesCSV)),
		OneFile(SummaryFile, "acreage, in total, by stream and by unit", func(r *result.Run) int { return len(result.Summarize(r)) }, alone(WriteSummaryCSV)),
		OneFile(OrderFile, "what treatment takes away, in order", func(r *result.Run) int { return len(r.Steps) }, alone(WriteOrderCSV)),
		OneFile("order.svg", "the same as a chart", func(r *result.Run) int { return len(r.Steps) }, alone(WriteOrderSVG)),
		OneFile(FollowupFile, "when each stand is looked at next", func(r *result.Run) int { return len(r.Visits) }, alone(WriteFollowupCSV)),
		OneFile(CalendarFile, calendarRole, calendarRows, alone(WriteCalendar)),
		OneFile(AbsentFile, "stands once mapped and not detected since", func(r *result.Run) int { return len(r.Absent) }, alone(WriteAbsent)),
		packable(with.Packed, LookedFile, "ground looked at in the chain so far", func(r *result.Run) int { return r.Surveyed.Len() }, WriteSurveyed),
		OneFile(EverFile, "all ever mapped by stage, quarter by quarter", func(r *result.Run) int { return result.EverMappedTable(r).Rows }, alone(WriteEverMappedCSV)),
		OneFile(HistoryFile, "summaries of all quarters up to this one", historyRows, alone(WriteHistoryCSV)),
		OneFile("findings.csv", "findings about the input", func(r *result.Run) int { return len(r.Findings) }, alone(WriteFindingsCSV)),
		OneFile("findings.geojson", "findings on the map", func(r *result.Run) int { return len(r.Findings) }, alone(WriteFindings)),
		OneFile("fields.csv", "what every field of these files means", func(r *result.Run) int { return result.DictionaryTable(r).Rows }, alone(WriteFieldsCSV)),
	}
	if with.Public {
		all = slices.DeleteFunc(all, func(d Deliverable) bool { return d.Role == calendarRole })
	}
	all = append(all, betweenStands(with)...)
	if with.Lineage {
		all = append(all,
			OneFile(LineageFile, "what became of each stand", func(r *result.Run) int { return result.LineageTable(r).Rows }, alone(WriteLineageCSV)),
			OneFile(ChangesFile, "what each stand counted among the changes, quarter by quarter", func(r *result.Run) int { return result.StandChangeTable(r).Rows }, alone(WriteStandChangesCSV)),
			OneFile(BackFile, "what corrections took back of earlier changes", func(r *result.Run) int { return result.TakenBackTable(r).Rows }, alone(WriteTakenBackCSV)))
	}
	if with.Work {
		all = append(all,
			OneFile(WorkFile, "control work done, of all quarters", func(r *result.Run) int { return len(r.Treatments) }, alone(WriteWorkCSV)),
			OneFile(ProductsFile, "products used by month", func(r *result.Run) int { return result.ProductTable(r).Rows }, alone(WriteProductsCSV)))
	}
	if with.Parts {
		all = append(all, OneFile("stand_parts.geojson", "stands treated in part, each in its two parts", func(r *result.Run) int { return result.PartTable(r).Rows }, alone(WriteParts)))
	}
	if with.Plan {
		rows := func(table func(*result.Run) result.Table) func(*result.Run) int {
			return func(r *result.Run) int { return table(r).Rows }
		}
		all = append(all,
			OneFile("plan.csv", "what is to be done in the coming quarters, in order", rows(result.PlanTable), alone(WritePlanCSV)),
			OneFile("plan_quarters.csv", "what each planned quarter comes to, and how good its plan is", rows(result.PlanQuarterTable), alone(WritePlanQuartersCSV)),
			OneFile("plan_held.csv", "stands that cannot be treated now, and what they keep seeding", rows(result.PlanHeldTable), alone(WritePlanHeldCSV)),
			OneFile("plan_curve.csv", "what more money would take away", rows(result.PlanCurveTable), alone(WritePlanCurveCSV)),
			OneFile("plan.svg", "the same as a chart", rows(result.PlanCurveTable), alone(WritePlanSVG)))
	}
	all = append(all, surveyNextFiles(with)...)
	if with.WaterWork {
		all = append(all, OneFile(WaterWorkFile, "what applications and yearly reports of work at the water ask for", func(r *result.Run) int { return result.WaterWorkTable(r).Rows }, alone(WriteWaterWorkCSV)))
	}
	if with.Notices {
		rows := func(r *result.Run) int { return len(r.Notices) }
		all = append(all,
			OneFile(NoticesTable, "planned works to warn", rows, alone(WriteNoticesCSV)),
			OneFile(NoticesFile, "the works on the map", rows, alone(WriteNotices)))
	}
	if with.Crew && !with.Public {
		all = append(all, OneFile(GPXFile, "places to go to, for a crew's units", stopRows, alone(WriteCrewGPX)),
			OneFile(PhoneFile, "forms to fill in at the stops", crewRows, alone(WriteCrewPackage)))
	}
	return append(all, askedFor(with)...)
}

// askedFor returns the files that are written only on request.
func askedFor(with Extras) (all []Deliverable) {
	if with.Network {
		rows := func(r *result.Run) int { return result.NetworkTable(r).Rows }
		all = append(all, OneFile("network.geojson", "the stream network as it was understood", rows, alone(WriteNetwork)).Taking(Long))
	}
	if with.KML {
		all = append(all, OneFile("map.kml", "the map without packing", placemarks, WriteKML).Taking(Long))
	}
	if with.Light {
		all = append(all, OneFile(LightFile, "points and lines for viewers that take few features", lightFeatures, alone(WriteLightKMZ)).Taking(Long))
	}
	if with.Workbook {
		all = append(all, OneFile(WorkbookFile, "the tables in one workbook", workbookRows, alone(WriteWorkbook)).Taking(Long))
	}
	if with.GeoPackage {
		rows := func(r *result.Run) int {
			return len(r.Stands) + len(r.Reaches) + len(r.Zones) + r.Records.Len() + len(r.Notices) + len(r.Stretches) + len(r.Findings)
		}
		pack := func(w io.Writer, run *result.Run) error { return WriteGeoPackage(w, run, with.Network) }
		all = append(all, OneFile("driftreach.gpkg", "every layer in one database", rows, alone(pack)).Taking(Longest))
	}
	return all
}

// betweenStands returns the tables that relate stands to each other and to units.
func betweenStands(with Extras) (all []Deliverable) {
	if with.Links {
		all = append(all, OneFile("stand_links.csv", "which stand can seed which", func(r *result.Run) int { return len(r.Links) }, alone(WriteLinksCSV)))
	}
	if with.Units {
		rows := func(r *result.Run) int { return result.StandUnitTable(r).Rows }
		all = append(all, OneFile(UnitsFile, "stands' acres by reporting unit", rows, alone(WriteStandUnitsCSV)))
	}
	return all
}

// calendarRole describes the calendar.
const calendarRole = "the same as a calendar"
