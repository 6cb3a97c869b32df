package batch

import (
	"slices"
	"strings"

	"driftreach/geo"
	"driftreach/geo/parallel"
	"driftreach/internal/lineage"
	"driftreach/internal/restated"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
)

// takeUpIdentities continues the previous batch. Stands keep their identities. Parts of known stands
// that nobody surveyed are carried forward with their last known records. Afterwards stands and records
// are sorted by id.
func (c *computation) takeUpIdentities() error {
	if err := c.placeKnown(); err != nil {
		return err
	}
	before := c.in.Previous
	then := lineage.Before{Known: before.Known, Records: before.Records}
	now := lineage.Now{Quarter: c.in.Quarter, Stands: c.stands, Records: c.in.Records.Listed}
	now = restated.Rule(c.in.Rulings, then, now, c.rules)
	c.stands = now.Stands
	if len(c.in.Rulings.Finds)+len(c.in.Rulings.Apart) > 0 {
		c.ready = nil // stands may be cut
	}
	for i := range now.Stands {
		for _, m := range now.Stands[i].Members {
			c.standOf[m] = int32(i)
		}
	}
	c.lineage = lineage.Trace(then, now, c.evidence(), c.rules.Lineage, c.host.Goroutines())
	shares := c.unknownShares()
	c.carry()
	c.part(shares)
	c.sortStands()
	return Keep(&c.in, c.shelf())
}

// unknownShares returns, by mapped stand, the share of its area that was never surveyed before in the
// chain.
func (c *computation) unknownShares() []float64 {
	out := make([]float64, len(c.stands))
	_ = parallel.Each(c.ctx, len(c.stands), c.host.Goroutines(), func(i int) {
		out[i] = 1 - c.in.Previous.Looked.Share(c.stands[i].Footprint)
	})
	return out
}

// carry adds the unsurveyed parts of known stands, with their records, to the stands that continue
// them. It also adds known stands in which nothing was found but of which a part was not surveyed.
func (c *computation) carry() {
	before := c.in.Previous
	left := map[int32]lineage.Left{}
	var alone []int32 // known stands that are carried on their own
	for k := range before.Known {
		if fate := c.lineage.Fates[k]; before.Known[k].Absent || before.Known[k].Out != "" || fate == lineage.NotDetected {
			continue
		} else if fate.Stays() {
			alone = append(alone, int32(k))
		}
		for _, l := range c.lineage.Looks[k].Left {
			left[l.Record] = l
		}
	}
	own, carried := c.merge(left)
	mapped := c.stands
	c.mapped = make([]geo.SquareMeters, len(mapped))
	for i := range mapped {
		c.mapped[i] = mapped[i].Infested
	}
	c.stands, c.ancestry = make([]stand.Stand, 0, len(c.lineage.Groups)+len(alone)), make([]ancestry, 0, len(c.lineage.Groups)+len(alone))
	for g, group := range c.lineage.Groups {
		var members, kept []int32
		isolated := true
		for _, i := range group {
			members, isolated = append(members, inPlaces(mapped[i].Members, own)...), isolated && mapped[i].Isolated
		}
		for _, k := range c.lineage.Carried[g] {
			kept = append(kept, c.leftOf(k, carried)...)
		}
		st := mapped[group[0]]
		st.Members = members
		k := ancestry{mapped: group[0]}
		if len(group) > 1 {
			st, k.mapped = c.build(members), -1
		}
		k.parts.Own = st.Infested.Grains()
		if len(kept) > 0 {
			st = c.build(slices.Concat(members, kept))
			isolated, k.mapped = false, -1
		}
		st.ID, st.Isolated = c.lineage.IDs[g], isolated
		c.stands, c.ancestry = append(c.stands, st), append(c.ancestry, k)
	}
	for _, k := range alone {
		c.stands = append(c.stands, c.aloneStand(k, carried))
		c.ancestry = append(c.ancestry, ancestry{mapped: -1, change: c.lineage.Fates[k], parents: []int32{k}, from: before.Known[k].Quarter})
	}
	for _, link := range c.lineage.Links {
		c.ancestry[link.Stand].parents = append(c.ancestry[link.Stand].parents, link.Known)
	}
	c.standOf = make([]int32, len(c.in.Records.Listed))
	for i := range c.standOf {
		c.standOf[i] = -1
	}
}

// build measures the stand made of the given records.
func (c *computation) build(members []int32) stand.Stand {
	slices.Sort(members)
	return stand.Build(c.in.Records.Listed, members, c.rules.Stands)
}

// leftOf returns the new indices of the carried records of a known stand.
func (c *computation) leftOf(k int32, carried []int32) []int32 {
	var out []int32
	for _, l := range c.lineage.Looks[k].Left {
		out = append(out, carried[l.Record])
	}
	return out
}

// aloneStand returns a known stand that is carried forward because nothing of it was found. If no part
// of it was surveyed, it is unchanged.
func (c *computation) aloneStand(k int32, carried []int32) stand.Stand {
	known := &c.in.Previous.Known[k]
	members := c.leftOf(k, carried)
	slices.Sort(members)
	if c.lineage.Fates[k] == lineage.NotResurveyed {
		st := known.Stand
		st.Members = members
		return st
	}
	st := c.build(members)
	st.ID, st.Isolated = known.ID, known.Isolated
	st.Infested = min(st.Infested, known.Infested) // rounding of positions could make it larger
	st.Canopy, st.Gross = min(st.Canopy, st.Infested), max(st.Gross, st.Infested)
	return st
}

// merge inserts the carried records of the previous batch into this quarter's, sorted by id. It returns
// the new index of each record of either list.
func (c *computation) merge(left map[int32]lineage.Left) (own, carried []int32) {
	records, before := c.in.Records.Listed, c.in.Previous.Records
	extra := c.carriedRecords(left)
	own, carried = make([]int32, len(records)), make([]int32, len(before))
	all := make([]survey.Record, 0, len(records)+len(extra))
	c.from, c.copyOf = make([]survey.Quarter, len(records)+len(extra)), make([]int32, len(records)+len(extra))
	for i, k := 0, 0; i < len(records) || k < len(extra); {
		at := int32(len(all))
		if k == len(extra) || i < len(records) && records[i].ID < extra[k].record.ID {
			own[i], c.copyOf[at] = at, -1
			all = append(all, records[i])
			i++
			continue
		}
		carried[extra[k].index], c.copyOf[at] = at, extra[k].index
		c.from[at] = c.in.Previous.From[extra[k].index]
		all = append(all, extra[k].record)
		k++
	}
	c.in.Records.Listed = all
	return own, carried
}

// carriedRecord is a record of the previous batch with its index there.
type carriedRecord struct {
	record survey.Record
	index  int32
}

// carriedRecords returns the carried records sorted by id, ready to be merged with this quarter's. If
// this quarter has a record of the same id, the carried one gets "@" and its batch's quarter added to
// its id. If only part of its patch is left, that part becomes its outline.
func (c *computation) carriedRecords(left map[int32]lineage.Left) []carriedRecord {
	before, columns := c.in.Previous, c.carryColumns()
	given := map[string]bool{}
	used := func(id string) bool { return given[id] || holdsID(c.in.Records.Listed, id) }
	var out []carriedRecord
	for i := range before.Records {
		l, is := left[int32(i)]
		if !is {
			continue
		}
		r := before.Records[i]
		if l.Patch != nil {
			r.Outline, r.PatchArea, r.Position = l.Patch, 0, l.At
		}
		if holdsID(c.in.Records.Listed, r.ID) {
			for r.ID += "@" + before.Quarter.String(); used(r.ID) || holdsID(before.Records, r.ID); {
				r.ID += "@" + before.Quarter.String()
			}
			given[r.ID] = true
		}
		if notes := r.Told(); notes.Extra != nil {
			notes.Extra = inColumns(notes.Extra, columns)
			r.Notes = notes.Pack()
		}
		out = append(out, carriedRecord{r, int32(i)})
	}
	slices.SortFunc(out, func(a, b carriedRecord) int { return strings.Compare(a.record.ID, b.record.ID) })
	return out
}

// holdsID says whether a list of records sorted by id contains the id.
func holdsID(records []survey.Record, id string) bool {
	_, found := slices.BinarySearchFunc(records, id, func(r survey.Record, id string) int { return strings.Compare(r.ID, id) })
	return found
}

// carryColumns adds the extra columns of the previous batch after this quarter's, and returns the new
// index of each.
func (c *computation) carryColumns() []int {
	columns := slices.Clone(c.in.ExtraColumns)
	at := make([]int, len(c.in.Previous.ExtraColumns))
	for k, name := range c.in.Previous.ExtraColumns {
		if at[k] = slices.Index(columns, name); at[k] < 0 {
			at[k] = len(columns)
			columns = append(columns, name)
		}
	}
	c.in.ExtraColumns = columns
	return at
}

// inColumns returns a row with each value in its given column.
func inColumns(values []string, columns []int) []string {
	var out []string
	for k, value := range values {
		if value == "" {
			continue
		}
		if need := columns[k] + 1 - len(out); need > 0 {
			out = append(out, make([]string, need)...)
		}
		out[columns[k]] = value
	}
	return out
}

// sortStands sorts the stands by id.
func (c *computation) sortStands() {
	order := make([]int32, len(c.stands))
	for i := range order {
		order[i] = int32(i)
	}
	slices.SortFunc(order, func(a, b int32) int { return strings.Compare(c.stands[a].ID, c.stands[b].ID) })
	stands, of := make([]stand.Stand, len(order)), make([]ancestry, len(order))
	place := places(order)
	for at, i := range order {
		stands[at], of[at] = c.stands[i], c.ancestry[i]
		for _, m := range stands[at].Members {
			c.standOf[m] = int32(at)
		}
	}
	for i := range c.lineage.Links {
		c.lineage.Links[i].Stand = place[c.lineage.Links[i].Stand]
	}
	c.stands, c.ancestry = stands, of
}
