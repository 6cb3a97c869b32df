package validate

import (
	"strconv"
	"strings"
)

func (k *kmlCheck) geometry(n *node) {
	switch n.name {
	case "Point":
		if path := k.coordinates(n); len(path) != 1 {
			k.r.addf("Point of %d positions", len(path))
		} else {
			k.r.place("Point", path[0], k.within)
		}
	case "LineString":
		k.r.line("LineString", k.coordinates(n), k.within)
	case "MultiGeometry":
		if len(n.children) == 0 {
			k.r.addf("MultiGeometry is empty")
		}
	case "outerBoundaryIs", "innerBoundaryIs":
		ring := n.child("LinearRing")
		if ring == nil {
			k.r.addf("%s without a LinearRing", n.name)
			return
		}
		k.r.ring(n.name, k.coordinates(ring), n.name == "outerBoundaryIs", k.within)
	}
}

// coordinates returns the positions of n's coordinates element.
func (k *kmlCheck) coordinates(n *node) []position {
	var path []position
	for _, tuple := range strings.Fields(n.value("coordinates")) {
		parts := strings.Split(tuple, ",")
		if len(parts) < 2 || len(parts) > 3 {
			k.r.addf("%s: tuple %q", n.name, tuple)
			continue
		}
		lon, err1 := strconv.ParseFloat(parts[0], 64)
		lat, err2 := strconv.ParseFloat(parts[1], 64)
		if err1 != nil || err2 != nil {
			k.r.addf("%s: tuple %q", n.name, tuple)
			continue
		}
		path = append(path, position{lon, lat})
	}
	return path
}
