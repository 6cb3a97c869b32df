package validate

type kmlCheck struct {
	r      *Report
	within Bounds
	files  []string
	ids    map[string]*node // by id
}
