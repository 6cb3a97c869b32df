package settings

import "slices"

// lineageTable has the settings for continuing an earlier batch. A TOML subtable ends its parent, so
// single keys come first.
var lineageTable = slices.Concat(identityTable, unseenTable, foundTable, absentTable)

var identityTable = []Setting{
	{"lineage.overlap_share", "share", Assumed, "stands of two quarters whose footprints or general perimeters share at least this much of the smaller one are one stand",
		"our choice: parts of one stand share far more, neighbours that happen to touch share less", above(0, 1),
		func(s *Settings) any { return &s.Lineage.OverlapShare }},
	{"lineage.position_uncertainty_m", "m", Assumed, "uncertainty of positions that record none, as the radius that holds 68 % of them; stands this close may be one",
		"our choice: a hand-held receiver under open canopy", above(0, 1000),
		func(s *Settings) any { return &s.Lineage.Uncertainty }},
}

// The source of the distances within which ground counts as surveyed.
const (
	foundSource  = "our choice: cane three metres tall shows along a bank, and farther from the air than on foot; what an image shows is drawn as an area"
	absentSource = "our choice: regrowth is knee-high and has to be stepped past; what an image shows is drawn as an area"
)

var foundTable = []Setting{
	{"lineage.found_m.foot", "m", Assumed, "tall cane this close to a line that was walked is found", foundSource, within(0, 1000),
		func(s *Settings) any { return &s.Lineage.Found.Foot }},
	{"lineage.found_m.boat", "m", Assumed, "the same for a line taken by boat", foundSource, within(0, 1000),
		func(s *Settings) any { return &s.Lineage.Found.Boat }},
	{"lineage.found_m.air", "m", Assumed, "the same for a line that was flown", foundSource, within(0, 5000),
		func(s *Settings) any { return &s.Lineage.Found.Air }},
	{"lineage.found_m.image", "m", Assumed, "the same for a line along which images were read", foundSource, within(0, 5000),
		func(s *Settings) any { return &s.Lineage.Found.Image }},
}

var absentTable = []Setting{
	{"lineage.absent_m.foot", "m", Assumed, "finding nothing counts this close to a line that was walked, or to a record that says not detected", absentSource, within(0, 1000),
		func(s *Settings) any { return &s.Lineage.Absent.Foot }},
	{"lineage.absent_m.boat", "m", Assumed, "the same for a line taken by boat; never for a stand that was treated", absentSource, within(0, 1000),
		func(s *Settings) any { return &s.Lineage.Absent.Boat }},
	{"lineage.absent_m.air", "m", Assumed, "the same for a line that was flown; never for a stand that was treated", absentSource, within(0, 5000),
		func(s *Settings) any { return &s.Lineage.Absent.Air }},
	{"lineage.absent_m.image", "m", Assumed, "the same for a line along which images were read; never for a stand that was treated", absentSource, within(0, 5000),
		func(s *Settings) any { return &s.Lineage.Absent.Image }},
}

var unseenTable = []Setting{
	{"lineage.barrier_width_m", "m", Assumed, "from this bankfull width on, people on foot see only their own bank, unless they wade",
		"our choice: wider streams are not waded", within(0, 10000),
		func(s *Settings) any { return &s.Lineage.Barrier }},
	{"lineage.unseen_share", "share", Assumed, "a stand that was not found leaves the map once no more than this share of it is unseen",
		"our choice: one part in twenty lies along the uncertain edge of surveyed ground", within(0, 0.5),
		func(s *Settings) any { return &s.Lineage.UnseenShare }},
	{"lineage.kept_within", "share", Assumed, "a stand counts as kept when its infested area changed by no more than this share",
		"our choice: position error alone changes a small stand by about this much", within(0, 1),
		func(s *Settings) any { return &s.Lineage.KeptWithin }},
}
