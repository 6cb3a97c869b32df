package malformed

import "slices"

// Cases returns every case. Most are damaged copies of the good files in the module's folder testdata.
// They take about 100 MB.
func Cases(testdata string) ([]Case, error) {
	all, err := damaged(testdata)
	if err != nil {
		return nil, err
	}
	for _, make := range []func() []Case{texts, objects, documents, archives, workbooks, shapes, others, databases} {
		all = append(all, make()...)
	}
	tables, err := tables(testdata)
	return append(all, tables...), err
}

// others returns inputs other than points and streams.
func others() []Case {
	return slices.Concat(unitCases(), surveyedCases(), treatmentCases(), barrierCases(), waterCases(), correctionCases())
}
