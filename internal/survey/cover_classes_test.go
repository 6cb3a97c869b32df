package survey

import "sort"

// Classes returns the table's class names, sorted.
func (t CoverTable) Classes() []string {
	names := make([]string, 0, len(t.points))
	for name := range t.points { // sorted below
		names = append(names, name)
	}
	sort.Strings(names)
	return names
}
