package webmap

import (
	"fmt"
	"iter"

	"github.com/paulmach/orb"

	"driftreach/geo"
	"driftreach/geo/shape"
	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
)

// path is a line: its style, its name, and its positions.
type path struct {
	Sign int    `json:"k"`
	Name string `json:"n,omitempty"`
	Line []int  `json:"p"`
}

// area is polygons, and for a work also lines and points.
type area struct {
	Sign  int       `json:"k"`
	Name  string    `json:"n"`
	Rings [][][]int `json:"g"`
	Lines [][]int   `json:"p,omitempty"`
}

// card is one stand and what the page shows about it.
type card struct {
	ID      string    `json:"id"`
	Order   int       `json:"o"` // 0 if no treatment is needed
	Sign    int       `json:"k"`
	Water   string    `json:"w"`
	At      []int     `json:"c"`
	Rings   [][][]int `json:"g"`
	ToDo    []string  `json:"d"` // what to do, a line each
	Rules   []int     `json:"r"` // indices of its requirements
	Values  []string  `json:"v"` // in the order of the labels
	Change  string    `json:"h"`
	Overdue bool      `json:"late"`
	InZone  bool      `json:"zone"`
}

// earlier is a stand as mapped in the previous batch.
type earlier struct {
	ID    string    `json:"id"`
	Fate  string    `json:"h"`
	Rings [][][]int `json:"g"`
}

// point is a survey record.
type point struct {
	Sign int    `json:"k"`
	Name string `json:"n"`
	At   []int  `json:"c"`
}

// turn is a piece of work: the number of a stand, and the acres of the work up to and including this
// piece, rounded as everywhere.
type turn struct {
	Stand int    `json:"s"`
	Acres string `json:"a"`
	When  string `json:"q,omitempty"` // the quarter for which it is planned
}

// gatherer collects what the page draws and says, one item at a time.
type gatherer struct {
	run   *result.Run
	grid  grid
	signs map[string]int // by id
	rules []string       // each requirement once, in the order in which stands name them
	rule  map[string]int // by text
}

// write writes everything that the page draws and says as one object. Names are short, since there are
// many of them. An empty list is written as [], never as null.
func (g *gatherer) write(o *object) {
	o.field(field.Quarter, g.run.Quarter.String())
	before := "" // quarter of the previous batch; blank if there is none
	if g.run.Previous != nil {
		before = g.run.Previous.Quarter.String()
	}
	o.field("before", before)
	o.field("cautions", g.cautions())
	o.field("origin", [2]float64(g.grid.origin)) // degrees; positions are relative to it
	o.field("steps", float64(steps))             // steps per degree
	signs := mapfile.Signs(g.run)
	for i, s := range signs {
		g.signs[s.ID] = i
	}
	o.field("signs", signs)
	table := result.StandTable(g.run)
	columns, labels := shown(table)
	o.field("labels", labels) // labels of the rows of a stand's card
	g.gatherRules()
	o.field("rules", g.rules)
	list(o, "streams", g.streams)
	g.zones(o)
	list(o, "reaches", g.reaches)
	list(o, "stands", func(add func(card)) { g.stands(table, columns, add) })
	list(o, "earlier", g.earlier) // stands as mapped in the previous batch
	list(o, "absent", g.absent)
	list(o, "points", g.points)
	list(o, "works", g.works)
	list(o, "turn", g.turns) // work in order, for "the first 5 acres"
	o.field("planned", g.run.Plan != nil)
}

// streams adds every line of the network.
func (g *gatherer) streams(add func(path)) {
	if n := g.run.Network; n != nil {
		for e, line := range n.Paths.All() {
			add(path{Sign: -1, Name: n.LineName(n.Net.Edges[e].Line), Line: g.grid.line(line)})
		}
	}
}

// zones writes the list of the aquatic zones, an area for every water body. It writes each polygon by
// polygon: the zone of all unnamed streams is one area.
func (g *gatherer) zones(o *object) {
	o.name("zones")
	o.text.WriteByte('[')
	for i := range g.run.Zones {
		z := &g.run.Zones[i]
		if i > 0 {
			o.text.WriteByte(',')
		}
		o.value(area{Sign: g.signs[mapfile.SignOfZone()], Name: z.WaterBody, Rings: [][][]int{}})
		o.text.Truncate(o.text.Len() - len("]}")) // the end of its rings, which are last
		g.rings(o, z.Geometry.Rings())
		o.text.WriteString("]}")
	}
	o.text.WriteByte(']')
	o.flush()
}

// rings writes what grid.polygons returns, without the brackets about it.
func (g *gatherer) rings(o *object, rings iter.Seq2[bool, orb.Ring]) {
	var polygon [][]int
	some := false
	end := func() {
		if len(polygon) == 0 {
			return
		}
		if some {
			o.text.WriteByte(',')
		}
		some = true
		o.value(polygon)
		o.flush()
		polygon = polygon[:0]
	}
	for outer, r := range rings {
		if outer {
			end()
		}
		if ring := g.grid.line(r); len(ring) >= 6 {
			polygon = append(polygon, ring)
		}
	}
	end()
}

// reaches adds the reach at risk at the batch's first water stage.
func (g *gatherer) reaches(add func(path)) {
	for i := range g.run.Reaches {
		if r := &g.run.Reaches[i]; r.Stage == 0 {
			add(path{Sign: g.signs[mapfile.SignOfReach(r.Class)], Line: g.grid.line(r.Path)})
		}
	}
}

// cardFields are the rows of a stand's card below what to do; stands.csv has the rest.
var cardFields = []string{
	field.ManagementStatus, field.InfestedAcres, field.InfestedAcresP10, field.InfestedAcresP90, field.GrossAcres, field.CanopyAcres, field.ZoneAcres, field.CarriedAcres,
	field.ReachKm, field.ReachAloneKm, field.FloodReachKm, field.Exposure, field.FirstDetected, field.LastDetected, field.Change, field.RiverKm, field.UnitID, "points",
}

// shown returns the columns of the stands table that a card shows, with their labels.
func shown(table result.Table) (columns []int, labels []string) {
	labels = []string{}
	for _, name := range cardFields {
		for k, f := range table.Fields {
			if f.Name == name {
				columns, labels = append(columns, k), append(labels, f.Label)
			}
		}
	}
	return columns, labels
}

// stands adds the stands with their cards.
func (g *gatherer) stands(table result.Table, columns []int, add func(card)) {
	late := g.overdue()
	var row []result.Value
	for i := range g.run.Stands {
		s := &g.run.Stands[i]
		row = table.Row(g.run, i, row)
		one := card{
			ID: s.ID, Sign: g.signs[mapfile.SignOfStand(s)], At: g.grid.place(s.Place()), Rings: g.grid.polygons(s.Footprint.Rings()),
			Change: string(s.Change), Overdue: late[i], InZone: s.Zone.InZone, Rules: []int{}, ToDo: []string{},
		}
		one.Water = g.run.Line(s.Zone.Line).Name
		if s.AsksTreatment() {
			one.Order = s.Advice.Order
		}
		if s.FollowUp != "" {
			one.ToDo = append(one.ToDo, s.FollowUp)
		}
		for _, rule := range s.Advice.Requirements {
			one.Rules = append(one.Rules, g.rule[rule])
		}
		for _, k := range columns {
			one.Values = append(one.Values, mapfile.Told(table.Fields[k], row[k]))
		}
		add(one)
	}
}

// gatherRules numbers the requirements; equal ones are kept once.
func (g *gatherer) gatherRules() {
	g.rules = []string{}
	for i := range g.run.Stands {
		for _, text := range g.run.Stands[i].Advice.Requirements {
			if _, known := g.rule[text]; !known {
				g.rule[text] = len(g.rules)
				g.rules = append(g.rules, text)
			}
		}
	}
}

// overdue says, by stand, whether a visit is overdue.
func (g *gatherer) overdue() []bool {
	late := make([]bool, len(g.run.Stands))
	for i := range g.run.Visits {
		if v := &g.run.Visits[i]; v.Stand >= 0 && v.DaysOverdue(g.run.Quarter.End()) > 0 {
			late[v.Stand] = true
		}
	}
	return late
}

// earlier adds stands as mapped in the previous batch.
func (g *gatherer) earlier(add func(earlier)) {
	if g.run.Previous == nil {
		return
	}
	for i := range g.run.Previous.Known {
		if k := &g.run.Previous.Known[i]; !k.Absent {
			add(earlier{ID: k.ID, Fate: string(g.run.Previous.Fates[i]), Rings: g.grid.polygons(k.Footprint.Rings())})
		}
	}
}

// absent adds the stands not detected since the previous batch.
func (g *gatherer) absent(add func(area)) {
	if g.run.Previous == nil {
		return
	}
	for i := range g.run.Absent {
		a := &g.run.Absent[i]
		add(area{Sign: g.signs[mapfile.SignOfAbsent()], Name: a.ID + ", not detected since " + a.Since.String(), Rings: g.grid.polygons(a.Footprint.Rings())})
	}
}

// cautions returns what the page leaves out, and then the batch's cautions.
func (g *gatherer) cautions() []string {
	all := result.PageCautions(g.run)
	if !mapfile.ManyRecords(g.run) {
		return all
	}
	left := fmt.Sprintf("The %d survey points are not on this map: %s has them.", g.run.Records.Len(), mapfile.PackedName(mapfile.PointsFile))
	return append([]string{left}, all...)
}

// points adds the survey points, unless there are too many.
func (g *gatherer) points(add func(point)) {
	if mapfile.ManyRecords(g.run) { // points.zip has all
		return
	}
	for i := range g.run.Records.Len() {
		r := g.run.Records.At(i)
		add(point{Sign: g.signs[mapfile.SignOfPoint(r)], Name: r.ID, At: g.grid.place(r.Position)})
	}
}

// works adds the planned works with a notice, each once.
func (g *gatherer) works(add func(area)) {
	seen := map[int32]bool{}
	for i := range g.run.Notices {
		n := &g.run.Notices[i]
		if seen[int32(n.Work)] {
			continue
		}
		seen[int32(n.Work)] = true
		w := &g.run.Works[n.Work]
		one := area{Sign: g.signs[mapfile.SignOfWork()], Name: w.Kind + " " + w.ID, Rings: g.grid.polygons(shape.Rings(w.Areas))}
		for _, line := range w.Lines {
			one.Lines = append(one.Lines, g.grid.line(line))
		}
		for _, p := range w.Points {
			one.Lines = append(one.Lines, g.grid.place(p))
		}
		add(one)
	}
}

// turns adds the work in order: that of the plan, or without a plan the first treatments in treatment
// order.
func (g *gatherer) turns(add func(turn)) {
	var sum geo.Acres
	if g.run.Plan != nil {
		for i := range g.run.Plan.Rows {
			r := &g.run.Plan.Rows[i]
			sum += geo.Acres(r.Acres)
			add(turn{Stand: int(r.Stand), Acres: sum.Text(), When: r.Quarter.String()})
		}
		return
	}
	for i := range g.run.Stands {
		s := &g.run.Stands[i]
		if s.AsksTreatment() {
			sum += s.Infested.Acres() * geo.Acres(1-s.Done.Share)
			add(turn{Stand: i, Acres: sum.Text()})
		}
	}
}
