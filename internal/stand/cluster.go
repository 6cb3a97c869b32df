package stand

import (
	"fmt"

	"driftreach/geo/cluster"
	"driftreach/geo/earth"
	"driftreach/internal/survey"
)

// group sorts detected records into stands: by density (Ester et al. 1996), with each record that
// has no core point within reach as a stand by itself. It returns the members of each stand, stands
// sorted by their smallest record, and for each whether it is isolated. Records must be sorted by
// id.
//
// Distances are straight lines through the earth between points on the ellipsoid: at the join
// distance they differ from the geodesic by less than a nanometre, anywhere, the antimeridian
// included.
func group(records []survey.Record, s Settings, workers int) (members [][]int32, isolated []bool, err error) {
	detected := make([]int32, 0, len(records))
	coords := make([]float64, 0, 3*len(records))
	for i := range records {
		if !records[i].Detected {
			continue
		}
		xyz := earth.ECEF(records[i].Position)
		detected = append(detected, int32(i))
		coords = append(coords, xyz[:]...)
	}
	found, err := cluster.DBSCAN(coords, 3, cluster.Options{Eps: float64(s.JoinDistance), MinPoints: s.MinPoints, Workers: workers})
	if err != nil {
		return nil, nil, fmt.Errorf("cluster survey points: %w", err)
	}
	standOf := make([]int32, found.Clusters)
	for i := range standOf {
		standOf[i] = -1
	}
	for i, label := range found.Label {
		switch {
		case label < 0:
			members = append(members, []int32{detected[i]})
			isolated = append(isolated, true)
		case standOf[label] < 0:
			standOf[label] = int32(len(members))
			members = append(members, []int32{detected[i]})
			isolated = append(isolated, false)
		default:
			at := standOf[label]
			members[at] = append(members[at], detected[i])
		}
	}
	return members, isolated, nil
}
