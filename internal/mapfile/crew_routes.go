package mapfile

import (
	"fmt"
	"strings"

	"driftreach/internal/check"
	"driftreach/internal/result"
)

// mostRoutePoints is the most points of a route. Our choice: older units accept 50, and these are
// enough to follow a stretch on foot.
const mostRoutePoints = 50

// walks are the stretches on the list of where to survey next, in order.
func walks(run *result.Run) []int {
	var rows []int
	for i := range run.Stretches {
		if run.Stretches[i].Listed {
			rows = append(rows, i)
		}
	}
	return rows
}

// appendRoute appends a stretch as a route down the stream. Its name is its number in survey_next.csv.
func appendRoute(b []byte, run *result.Run, i int) []byte {
	s := &run.Stretches[i]
	var path []place
	for _, part := range lines(s.Line()) {
		path = append(path, part...)
	}
	if len(path) < 2 {
		return b
	}
	name := fmt.Sprintf("WALK%d", i+1)
	text := []string{fmt.Sprintf("Stretch %s, %.2f km, down the stream", s.ID, float64(s.Length.Kilometers()))}
	if len(s.Access) > 0 {
		text = append(text, "Access: "+strings.Join(s.Access, ", "))
	}
	b = appendElement(append(b, "<rte>"...), "name", name)
	b = appendElement(b, "cmt", fmt.Sprintf("LOOK %.1f KM", float64(s.Length.Kilometers())))
	b = appendElement(b, "desc", check.Visible(strings.Join(append(text, result.FloodCaution), ". ")))
	b = appendElement(b, "type", "look")
	for k, p := range routePoints(path) {
		b = appendGPXPlace(append(b, "<rtept"...), p)
		b = append(appendElement(b, "name", fmt.Sprintf("%s-%d", name, k+1)), "</rtept>"...)
	}
	return append(b, "</rte>\n"...)
}

// routePoints thins a path to the number of points of a route: its ends, and vertices at even intervals
// between them.
func routePoints(path []place) []place {
	if len(path) <= mostRoutePoints {
		return path
	}
	out := make([]place, mostRoutePoints)
	for k := range out {
		out[k] = path[k*(len(path)-1)/(mostRoutePoints-1)]
	}
	return out
}

// appendGPXPlace appends the position of a point and closes the tag. Longitudes are below 180.
func appendGPXPlace(b []byte, p place) []byte {
	if p[0] == halfTurn {
		p[0] = -halfTurn
	}
	b = appendDegrees(append(b, ` lat="`...), p[1])
	b = appendDegrees(append(b, `" lon="`...), p[0])
	return append(b, `">`...)
}
