package cluster_test

import (
	"fmt"
	"log"

	"driftreach/geo/cluster"
)

// Three points in a row and one far away.
func ExampleDBSCAN() {
	found, err := cluster.DBSCAN([]float64{0, 0, 1, 0, 2, 0, 50, 0}, 2, cluster.Options{Eps: 1, MinPoints: 2})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(found.Clusters, found.Label, found.Core)
	// Output: 1 [0 0 0 -1] [true true true false]
}
