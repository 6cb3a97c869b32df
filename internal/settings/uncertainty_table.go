package settings

// uncertaintyTable has the errors of the measurements that acreage is made from. The error of positions
// without a recorded accuracy is lineage.position_uncertainty_m.
var uncertaintyTable = []Setting{
	{"uncertainty.patch_own_share", "share", Assumed, "standard deviation of the error of one measured patch's area, as a share of the area",
		"our choice: both sides paced or judged to about a quarter", within(0, 1),
		func(s *Settings) any { return &s.Uncertain.PatchOwn }},
	{"uncertainty.patch_shared_share", "share", Assumed, "standard deviation of the error that all patches of one observer in one quarter share",
		"our choice: one who judges every side a twentieth too long or too short", within(0, 1),
		func(s *Settings) any { return &s.Uncertain.PatchShared }},
	{"uncertainty.default_patch_share", "share", Assumed, "standard deviation of stands.default_patch_acres, as a share of it: one error for all patches nobody measured",
		"our choice: half", within(0, 1),
		func(s *Settings) any { return &s.Uncertain.DefaultPatch }},
	{"uncertainty.default_cover_points", "%", Assumed, "standard deviation of stands.default_cover_percent, in points: one error for all patches whose cover nobody estimated",
		"our choice: about a cover class of Daubenmire either way", within(0, 100),
		func(s *Settings) any { return &s.Uncertain.DefaultCover }},
}
