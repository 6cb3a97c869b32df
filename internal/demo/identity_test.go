package demo

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/paulmach/orb"

	"driftreach/internal/intake"
	"driftreach/internal/lineage"
	"driftreach/internal/stand"
	"driftreach/internal/survey"
	"driftreach/internal/surveyed"
	"driftreach/internal/testkit"
)

// programme follows the stands of a scenario from quarter to quarter, as batches of one chain do,
// and stores the identity under which each colony was found.
type programme struct {
	t       *testing.T
	s       Scenario
	before  lineage.Before
	ids     []map[string]string         // by quarter, by colony: the identity of most of its records
	stands  []map[string]int            // by quarter, by colony: number of stands with its records
	changes []map[string]lineage.Change // by quarter, by identity, including fates
	parents []map[string][]string       // by quarter, by identity
}

// followed stores the programmes already computed, by seed.
var followed = map[uint64]*programme{}

func follow(t *testing.T, seed uint64) *programme {
	t.Helper()
	if followed[seed] == nil {
		p := &programme{t: t, s: made(seed)}
		for _, q := range p.s.Quarters {
			p.quarter(q)
		}
		followed[seed] = p
	}
	return followed[seed]
}

// quarter processes the next quarter.
func (p *programme) quarter(files QuarterFiles) {
	q, records := p.read(files)
	stands, of, err := stand.Map(records, q, stand.DefaultSettings(), 2)
	if err != nil {
		p.t.Fatal(err)
	}
	rules := lineage.DefaultSettings()
	evidence := lineage.Evidence{Given: true, Ground: walkedGround(p.t, files.Surveyed)}
	now := lineage.Now{Quarter: q, Stands: stands, Records: records}
	found := lineage.Trace(p.before, now, evidence, rules, 2)
	p.remember(records, of, found, files.Colonies)
	known, all := p.before.Known, slices.Clone(records)
	left := func(k int32) (members []int32) { // the records of a known stand that nobody saw
		for _, l := range found.Looks[k].Left {
			r := p.before.Records[l.Record]
			if l.Patch != nil {
				r.Outline, r.PatchArea, r.Position = l.Patch, 0, l.At
			}
			members, all = append(members, int32(len(all))), append(all, r)
		}
		return members
	}
	changes, parents := map[string]lineage.Change{}, map[string][]string{}
	var next []lineage.Known
	outcomes := make([]lineage.Outcome, len(found.Groups))
	for g, group := range found.Groups {
		var members []int32
		for _, i := range group {
			members = append(members, stands[i].Members...)
		}
		for _, k := range found.Carried[g] {
			members = append(members, left(k)...)
		}
		st := stand.Build(all, members, stand.DefaultSettings())
		st.ID = found.IDs[g]
		outcomes[g] = lineage.Outcome{Infested: st.Infested, Carried: len(found.Carried[g]) > 0}
		next = append(next, lineage.Known{Stand: st, Quarter: q})
	}
	for g, change := range found.Judge(known, outcomes, rules) {
		changes[found.IDs[g]] = change
	}
	for _, link := range found.Links {
		id := found.IDs[link.Stand]
		parents[id] = append(parents[id], known[link.Known].ID)
	}
	for k, fate := range found.Fates {
		one := known[k]
		if fate == "" {
			continue
		}
		changes[one.ID] = fate
		if one.Absent = one.Absent || fate == lineage.NotDetected; one.Absent {
			one.Members = nil
		} else {
			one.Stand = stand.Build(all, left(int32(k)), stand.DefaultSettings())
			one.ID = known[k].ID
		}
		next = append(next, one)
	}
	slices.SortFunc(next, func(a, b lineage.Known) int { return strings.Compare(a.ID, b.ID) })
	p.before, p.changes, p.parents = lineage.Before{Known: next, Records: all}, append(p.changes, changes), append(p.parents, parents)
}

// read reads a quarter's points with the program's reader, sorted by id.
func (p *programme) read(files QuarterFiles) (survey.Quarter, []survey.Record) {
	q, err := survey.ParseQuarter(files.Quarter)
	if err != nil {
		p.t.Fatal(err)
	}
	options := intake.DefaultOptions()
	options.Quarter = q
	read, _, err := intake.ReadPoints(testkit.Source(files.PointsFile(), bytes.NewReader(files.Points)), options)
	if err != nil {
		p.t.Fatal(err)
	}
	records := survey.Examine(read.Records, survey.DefaultOptions(q)).Records
	slices.SortFunc(records, func(a, b survey.Record) int { return strings.Compare(a.ID, b.ID) })
	return q, records
}

// remember stores, for each colony, the identity of most of its records (ties by id) and the number
// of its stands.
func (p *programme) remember(records []survey.Record, of []int32, found lineage.Lineage, colonies []string) {
	count := map[string]map[string]int{}
	for i, r := range records {
		if of[i] < 0 {
			continue
		}
		name := colonies[r.Row-1]
		if count[name] == nil {
			count[name] = map[string]int{}
		}
		group := slices.IndexFunc(found.Groups, func(g []int32) bool { return slices.Contains(g, of[i]) })
		count[name][found.IDs[group]]++
	}
	ids, stands := map[string]string{}, map[string]int{}
	for name, by := range count {
		stands[name] = len(by)
		for id, n := range by {
			if best := ids[name]; best == "" || n > by[best] || n == by[best] && id < best {
				ids[name] = id
			}
		}
	}
	p.ids, p.stands = append(p.ids, ids), append(p.stands, stands)
}

// walkedGround reads surveyed ground without using this package.
func walkedGround(t *testing.T, text []byte) []surveyed.Ground {
	t.Helper()
	var out []surveyed.Ground
	for _, f := range readMap(t, text) {
		var g surveyed.Ground
		g.Method, _ = surveyed.ParseMethod(fmt.Sprint(f.Properties["method"]))
		var err error
		switch f.Geometry.Type {
		case "LineString":
			g.Lines = orb.MultiLineString{nil}
			err = json.Unmarshal(f.Geometry.Coordinates, &g.Lines[0])
		case "MultiPolygon":
			err = json.Unmarshal(f.Geometry.Coordinates, &g.Areas)
		default:
			err = fmt.Errorf("a %s was surveyed", f.Geometry.Type)
		}
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, g)
	}
	return out
}

// tally counts how often identities agree with the truth. For the seed of the demo that users run,
// all must be right. For other seeds one in fifty may be wrong, since the receiver's position error
// now and then splits a stand for a quarter.
type tally struct {
	what         string
	right, wrong int
}

func (c *tally) add(t *testing.T, seed uint64, right bool, what string) {
	t.Helper()
	if right {
		c.right++
		return
	}
	c.wrong++
	t.Logf("seed %d: %s", seed, what)
	if seed == 1 {
		t.Errorf("in the demo itself: %s", what)
	}
}

func (c *tally) judge(t *testing.T) {
	t.Helper()
	t.Logf("%s: %d of %d", c.what, c.right, c.right+c.wrong)
	if c.right == 0 || c.wrong*50 > c.right {
		t.Errorf("%s: only %d of %d", c.what, c.right, c.right+c.wrong)
	}
}

// Identities compared with the truth over eight quarters: a colony keeps its identity, also after
// it was missed or not found. A colony that nobody visited is not resurveyed, one looked for in
// vain is not detected, and one that returns is found again.
func TestIdentitiesFollowTheColonies(t *testing.T) {
	same, lost, away, again := tally{what: "same identity"}, tally{what: "not detected"}, tally{what: "not resurveyed"}, tally{what: "found again"}
	for _, seed := range seeds {
		p := follow(t, seed)
		for _, truth := range p.s.Truths {
			last, before := "", Unknown
			for q, now := range truth.Sights {
				id, where := p.ids[q][truth.Colony], fmt.Sprintf("%s in %s", truth.Colony, calendar[q].name)
				change := p.changes[q][last]
				joins := truth.Joined > 0 && q >= truth.Joined
				switch {
				case last == "" || joins:
				case now == Found:
					same.add(t, seed, id == last || p.joinedBy(truth.Colony, q), where+" is "+id+", was "+last)
					if before == Searched {
						again.add(t, seed, change == lineage.FoundAgain, where+" is "+string(change))
					}
				case now == Searched:
					lost.add(t, seed, change == lineage.NotDetected, where+" is "+string(change))
				case now == Missed:
					away.add(t, seed, change == lineage.NotResurveyed, where+" is "+string(change))
				}
				if id != "" {
					last = id
				}
				before = now
			}
		}
	}
	for _, one := range []tally{same, lost, away, again} {
		one.judge(t)
	}
}

// joinedBy says whether a colony merges with another one in a quarter.
func (p *programme) joinedBy(colony string, quarter int) bool {
	return slices.ContainsFunc(p.s.Truths, func(other Truth) bool { return other.Joins == colony && other.Joined == quarter })
}

// Two colonies that merge become one stand, under the identity of either, and both are listed as
// its parents. A colony whose middle is gone becomes two stands, one of them under its identity.
func TestMergesAndSplitsAreRecovered(t *testing.T) {
	merged, split := tally{what: "merged"}, tally{what: "split"}
	for _, seed := range seeds {
		p := follow(t, seed)
		for _, truth := range p.s.Truths {
			if q := truth.Joined; q > 0 {
				mine, theirs := p.ids[q-1][truth.Colony], p.ids[q-1][truth.Joins]
				id := p.ids[q][truth.Colony]
				right := id == p.ids[q][truth.Joins] && (id == mine || id == theirs) && strings.HasPrefix(string(p.changes[q][id]), "merged") &&
					slices.Contains(p.parents[q][id], mine) && slices.Contains(p.parents[q][id], theirs)
				merged.add(t, seed, right, fmt.Sprintf("%s and %s in %s: %s of %v", mine, theirs, calendar[q].name, p.changes[q][id], p.parents[q][id]))
			}
			if q := truth.Parted; q > 0 {
				id := p.ids[q-1][truth.Colony]
				right := p.stands[q][truth.Colony] == 2 && p.changes[q][id] == lineage.Split
				split.add(t, seed, right, fmt.Sprintf("%s in %s: %s, %d stands", id, calendar[q].name, p.changes[q][id], p.stands[q][truth.Colony]))
			}
		}
	}
	merged.judge(t)
	split.judge(t)
}
