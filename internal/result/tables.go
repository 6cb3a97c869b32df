package result

// Tables returns every table of run, in the order of the glossary. Tables that are layers have the
// fields of layers. An empty run gives the fields without the carried columns.
func Tables(run *Run) []Table {
	all := plainTables(run)
	for i := range all {
		all[i] = withLayerFields(all[i])
	}
	return all
}

// plainTables returns the same tables without the fields that only layers have.
func plainTables(run *Run) []Table {
	return []Table{
		StandTable(run), PointTable(run), ZoneTable(run),
		ReachTable(run), SummaryTable(run, Summarize(run)), StandUnitTable(run), OrderTable(run), LinkTable(run), PlanTable(run), PlanQuarterTable(run), PlanHeldTable(run), PlanCurveTable(run), FollowupTable(run), StopTable(run), PartTable(run), TreatmentTable(run), ProductTable(run), NoticeTable(run), SurveyNextTable(run), WaterWorkTable(run), LineageTable(run), StandChangeTable(run), TakenBackTable(run), AbsentTable(run), SurveyedTable(run), EverMappedTable(run), NetworkTable(run), FindingTable(run),
	}
}
