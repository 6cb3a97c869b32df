package mapfile

import (
	"io"
	"slices"

	"driftreach/internal/result"
)

// Deliverables returns every deliverable, in the order in which they are listed to the user.
func Deliverables(with Extras) []Deliverable {
	all := []Deliverable{
		OneFile("map.kmz", "map for any viewer", placemarks, writeKMZ).Taking(Long),
		OneFile(StandsFile, "stands", func(r *result.Run) int { return len(r.Stands) }, alone(writeStands)).Taking(Long),
		packable(with.Packed, PointsFile, "survey points", func(r *result.Run) int { return r.Records.Len() }, writePoints),
		packable(with.Packed, ZoneFile, "aquatic zone", func(r *result.Run) int { return len(r.Zones) }, writeZone),
		packable(with.Packed, ReachesFile, "stream at risk", func(r *result.Run) int { return len(r.Reaches) }, writeReaches),
		OneFile(StandsTable, "table of stands", func(r *result.Run) int { return len(r.Stands) }, alone(writeStandsCSV)),
		OneFile(ReachesTable, "table of reaches", func(r *result.Run) int { return len(r.Reaches) }, alone(writeReachesCSV)),
		OneFile(SummaryFile, "acreage, in total, by stream and by unit", func(r *result.Run) int { return len(result.Summarize(r)) }, alone(WriteSummaryCSV)),
		OneFile(OrderFile, "what treatment takes away, in order", func(r *result.Run) int { return len(r.Steps) }, alone(writeOrderCSV)),
		OneFile("order.svg", "the same as a chart", func(r *result.Run) int { return len(r.Steps) }, alone(writeOrderSVG)),
		OneFile(FollowupFile, "when each stand is looked at next", func(r *result.Run) int { return len(r.Visits) }, alone(writeFollowupCSV)),
		OneFile(CalendarFile, calendarRole, calendarRows, alone(writeCalendar)),
		OneFile(AbsentFile, "stands once mapped and not detected since", func(r *result.Run) int { return len(r.Absent) }, alone(writeAbsent)),
		packable(with.Packed, LookedFile, "ground looked at in the chain so far", func(r *result.Run) int { return r.Surveyed.Len() }, writeSurveyed),
		OneFile(EverFile, "all ever mapped by stage, quarter by quarter", func(r *result.Run) int { return result.EverMappedTable(r).Rows }, alone(writeEverMappedCSV)),
		OneFile(HistoryFile, "summaries of all quarters up to this one", historyRows, alone(writeHistoryCSV)),
		OneFile("findings.csv", "findings about the input", func(r *result.Run) int { return len(r.Findings) }, alone(WriteFindingsCSV)),
		OneFile("findings.geojson", "findings on the map", func(r *result.Run) int { return len(r.Findings) }, alone(writeFindings)),
		OneFile("fields.csv", "what every field of these files means", func(r *result.Run) int { return result.DictionaryTable(r).Rows }, alone(writeFieldsCSV)),
	}
	if with.Public {
		all = slices.DeleteFunc(all, func(d Deliverable) bool { return d.Role == calendarRole })
	}
	all = append(all, betweenStands(with)...)
	if with.Lineage {
		all = append(all,
			OneFile(LineageFile, "what became of each stand", func(r *result.Run) int { return result.LineageTable(r).Rows }, alone(writeLineageCSV)),
			OneFile(ChangesFile, "what each stand counted among the changes, quarter by quarter", func(r *result.Run) int { return result.StandChangeTable(r).Rows }, alone(writeStandChangesCSV)),
			OneFile(BackFile, "what corrections took back of earlier changes", func(r *result.Run) int { return result.TakenBackTable(r).Rows }, alone(writeTakenBackCSV)))
	}
	if with.Work {
		all = append(all,
			OneFile(WorkFile, "control work done, of all quarters", func(r *result.Run) int { return len(r.Treatments) }, alone(writeWorkCSV)),
			OneFile(ProductsFile, "products used by month", func(r *result.Run) int { return result.ProductTable(r).Rows }, alone(writeProductsCSV)))
	}
	if with.Parts {
		all = append(all, OneFile("stand_parts.geojson", "stands treated in part, each in its two parts", func(r *result.Run) int { return result.PartTable(r).Rows }, alone(writeParts)))
	}
	if with.Plan {
		rows := func(table func(*result.Run) result.Table) func(*result.Run) int {
			return func(r *result.Run) int { return table(r).Rows }
		}
		all = append(all,
			OneFile("plan.csv", "what is to be done in the coming quarters, in order", rows(result.PlanTable), alone(writePlanCSV)),
			OneFile("plan_quarters.csv", "what each planned quarter comes to, and how good its plan is", rows(result.PlanQuarterTable), alone(writePlanQuartersCSV)),
			OneFile("plan_held.csv", "stands that cannot be treated now, and what they keep seeding", rows(result.PlanHeldTable), alone(writePlanHeldCSV)),
			OneFile("plan_curve.csv", "what more money would take away", rows(result.PlanCurveTable), alone(writePlanCurveCSV)),
			OneFile("plan.svg", "the same as a chart", rows(result.PlanCurveTable), alone(writePlanSVG)))
	}
	all = append(all, surveyNextFiles(with)...)
	if with.WaterWork {
		all = append(all, OneFile(WaterWorkFile, "what applications and yearly reports of work at the water ask for", func(r *result.Run) int { return result.WaterWorkTable(r).Rows }, alone(writeWaterWorkCSV)))
	}
	if with.Notices {
		rows := func(r *result.Run) int { return len(r.Notices) }
		all = append(all,
			OneFile(NoticesTable, "planned works to warn", rows, alone(writeNoticesCSV)),
			OneFile(NoticesFile, "the works on the map", rows, alone(writeNotices)))
	}
	if with.Crew && !with.Public {
		all = append(all, OneFile(gpxFile, "places to go to, for a crew's units", stopRows, alone(writeCrewGPX)),
			OneFile(phoneFile, "forms to fill in at the stops", crewRows, alone(writeCrewPackage)))
	}
	return append(all, askedFor(with)...)
}

// askedFor returns the files that are written only on request.
func askedFor(with Extras) (all []Deliverable) {
	if with.Network {
		rows := func(r *result.Run) int { return result.NetworkTable(r).Rows }
		all = append(all, OneFile("network.geojson", "the stream network as it was understood", rows, alone(writeNetwork)).Taking(Long))
	}
	if with.KML {
		all = append(all, OneFile("map.kml", "the map without packing", placemarks, writeKML).Taking(Long))
	}
	if with.Light {
		all = append(all, OneFile(lightFile, "points and lines for viewers that take few features", lightFeatures, alone(writeLightKMZ)).Taking(Long))
	}
	if with.Workbook {
		all = append(all, OneFile(WorkbookFile, "the tables in one workbook", workbookRows, alone(writeWorkbook)).Taking(Long))
	}
	if with.GeoPackage {
		rows := func(r *result.Run) int {
			return len(r.Stands) + len(r.Reaches) + len(r.Zones) + r.Records.Len() + len(r.Notices) + len(r.Stretches) + len(r.Findings)
		}
		pack := func(w io.Writer, run *result.Run) error { return writeGeoPackage(w, run, with.Network) }
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
		all = append(all, OneFile(UnitsFile, "stands' acres by reporting unit", rows, alone(writeStandUnitsCSV)))
	}
	return all
}

// calendarRole describes the calendar.
const calendarRole = "the same as a calendar"
