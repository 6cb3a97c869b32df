package demo

import (
	"fmt"
	"strings"
)

// readme returns the file that tells a person what the others are.
func readme(seed uint64) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s: an invented country\n\n", countryName)
	fmt.Fprintf(&b, `%s is made up, with all its rivers, places, offices and plants. It
lies in open ocean where no land is. The %s walks its
streams once a quarter; these are its files of four quarters, %s to %s.
They were made from seed %d; the same seed makes the same files.

| file | what it is |
|---|---|
| points-%s.csv and three more | survey points of a quarter: one row a patch of plants, or a place searched in vain |
| surveyed-%s.geojson and three more | the stretches of stream walked that quarter |
| streams.geojson | stream centerlines, digitised downstream |
| barriers.geojson | a culvert and a weir that the centerlines do not carry |
| units.geojson | the three districts |
| works.geojson | mowing, earthwork and channel work planned by others |
| treatments.csv | what was treated, when and how |

What happens in them:

- The plant was let loose on the Orvenna River and floats down it into the
  Iskarrow. Single plants turn up ahead of the stands.
- Crews treat from the top down: the creeks and the upper Orvenna first. Treated
  stands die standing, a third of the patches resprout, and are treated again.
- New stands root below live ones in the third and fourth quarter.
- The Vessick valley was not walked in 2026Q2, nor three Tullimar creeks in
  2026Q3: stands there are not resurveyed, not gone.
- The Tullimar is dammed (%s); the lower Iskarrow has a weir and a
  braid, Garravel Creek a culvert.
- A few slips of field work are left in: a missing date, an uncertainty of 0, an
  id given twice, a cover of 130 percent, an unknown status.
`, countryName, programmeName, calendar[0].name, calendar[len(calendar)-1].name, seed,
		calendar[0].name, calendar[0].name, reservoirName)
	return []byte(b.String())
}
