package main

import (
	"path/filepath"
	"testing"

	"driftreach/internal/testkit"
)

// TestPlacesToGoOfTheDemo: in all eight quarters of the demo every place to go to lies
// inside its stand, as both are written.
func TestPlacesToGoOfTheDemo(t *testing.T) {
	quarters, err := filepath.Glob(filepath.Join(demoToRead(t), "20??Q?"))
	if err != nil || len(quarters) != 8 {
		t.Fatalf("%v %v", quarters, err)
	}
	var all testkit.Places
	for _, folder := range quarters {
		p, err := testkit.PlacesToGo(folder)
		if err != nil {
			t.Error(err)
		}
		all.Add(p)
	}
	t.Logf("%+v", all)
	if all.Stands < 400 || all.Events < 100 || all.Waypoints < 400 {
		t.Errorf("too few to tell: %+v", all)
	}
}
