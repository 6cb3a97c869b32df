package demo

import (
	"fmt"
	"strings"
)

// readme returns the file that explains the others.
func readme(seed uint64) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s: an invented country\n\n", countryName)
	fmt.Fprintf(&b, `%s is made up, with all its rivers, places, offices and plants. It
lies in open ocean where no land is. The %s walks its
streams once a quarter; these are its files of eight quarters, %s to %s.
They were made from seed %d; the same seed makes the same files.

| file | what it is |
|---|---|
| points-%s.csv and seven more | survey points of a quarter: one row a patch of plants, or a place searched in vain |
| surveyed-%s.geojson and seven more | what was walked that quarter: stretches of stream, and ground about the lake and about gardens and roads |
| treatments-%s.csv and seven more | what was treated or pulled that quarter, when, how, with what and in what weather |
| works-%s.geojson and seven more | mowing, earthwork and channel work planned by others as the quarter ends |
| streams.geojson | stream centerlines, digitised downstream |
| barriers.geojson | a culvert and a weir that the centerlines do not carry |
| water.geojson | the shore of the lake behind the dam |
| units.geojson | the three districts |
| second-looks.csv | places along the water that two crews came by in one season, the second without knowing what the first had found; for learn |

What happens in them:

- The plant was let loose on the Orvenna River and floats down it into the
  Iskarrow. Single plants turn up ahead of the stands, and new ones root below
  live stands in every quarter.
- What nobody touches grows by a third in a year. Two pairs of stands on the
  lower Iskarrow grow together, in 2025Q3 and 2026Q1, and one on the Orvenna in
  2025Q2.
- From 2025Q2 crews treat from the top down: the creeks and the upper Orvenna
  first, the lower Iskarrow last. Treated stands die standing; a third of the
  patches resprout and are treated again; in the end nothing is found. What is
  small is pulled by hand, and some of it comes again.
- Of three stands only the middle is treated, so that in 2026Q1 and 2026Q2 two
  are left of each.
- Not all is walked: the upper Iskarrow was left out in 2025Q1, two creeks in
  2025Q2, a road cut in 2025Q4, the Vessick valley in 2026Q1 and 2026Q2, and the
  Tullimar with one of its creeks in 2026Q3. Stands there are not resurveyed, not
  gone; some wait to be treated again.
- The Tullimar is dammed (%s); the lower Iskarrow has a weir and a
  braid, Garravel Creek a culvert.
- The programme has crews for %g acres in a quarter, follow-up with it; the plan for
  the next %d quarters is made with that.
- One look finds nine in ten patches of 10 square metres or more, and six in ten
  smaller ones: second-looks.csv tells.
- What was sprayed is invented like the rest: no register has such a product or
  number, and its amounts say nothing of any real one.
- A few slips of field work are left in: missing dates, uncertainties of 0, ids
  given twice, covers of 130 percent, unknown statuses.
`, countryName, programmeName, calendar[0].name, calendar[len(calendar)-1].name, seed,
		calendar[0].name, calendar[0].name, calendar[0].name, calendar[0].name, reservoirName, float64(Budget), PlannedQuarters)
	return []byte(b.String())
}
