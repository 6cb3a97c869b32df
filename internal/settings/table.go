package settings

// Table returns the description of every setting, in the order of the settings file.
func Table() []Setting {
	var all []Setting
	all = append(all, surveyTable...)
	all = append(all, standTable...)
	all = append(all, lineageTable...)
	all = append(all, uncertaintyTable...)
	all = append(all, waterTable...)
	all = append(all, driftTable...)
	all = append(all, treatmentTable...)
	all = append(all, planTable...)
	all = append(all, crewTable...)
	all = append(all, reportTable...)
	all = append(all, surveyNextTable...)
	all = append(all, waterWorkTable...)
	all = append(all, publicTable...)
	all = append(all, trendTable...)
	all = append(all, mapTable...)
	return append(all, limitTable...)
}
