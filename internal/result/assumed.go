package result

// widthSetting is the setting used when a bankfull width is not recorded.
const widthSetting = "aquatic.bankfull_width_by_order_m"

// standAssumed returns the settings that replaced measurements of s.
func standAssumed(s *Stand) []string {
	if !s.Zone.WidthAssumed {
		return s.Assumed
	}
	// "aquatic" sorts before "stands", so the list stays sorted.
	return append([]string{widthSetting}, s.Assumed...)
}
