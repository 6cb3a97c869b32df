package settings

import (
	"slices"
	"testing"
)

func TestAssumedNamesWhatWasLeftAlone(t *testing.T) {
	cases := []struct {
		name, set string
		key       string
		want      bool
	}{
		{"left alone", "stands.join_distance_m=25", "aquatic.setback_m", true},
		{"set", "aquatic.setback_m=50", "aquatic.setback_m", false},
		{"published", "drift.stage=base", "stands.join_distance_m", false},
		{"told stand by stand", "drift.stage=base", "stands.default_patch_acres", false},
		{"flood factor at base flow", "drift.stage=base", "drift.flood_factor", false},
		{"flood factor in flood", "drift.stage=flood", "drift.flood_factor", true},
		{"one barrier of four set", "drift.pass.dam=0.2", "drift.pass.weir", true},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s, err := Default().Set(c.set)
			if err != nil {
				t.Fatal(err)
			}
			keys := s.Assumed(Given{})
			if slices.Contains(keys, c.key) != c.want || !slices.IsSorted(keys) {
				t.Errorf("assumed %v; %s in it: want %v", keys, c.key, c.want)
			}
		})
	}
}
