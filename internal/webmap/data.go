package webmap

import (
	"math"

	"driftreach/internal/field"
	"driftreach/internal/mapfile"
	"driftreach/internal/result"
)

// data is what the page draws and tells. Names are short, since there are many.
type data struct {
	Quarter  string         `json:"quarter"`
	Before   string         `json:"before"` // the quarter of the batch before; blank for none
	Cautions []string       `json:"cautions"`
	Origin   [2]float64     `json:"origin"` // degrees; places are counted from it
	Steps    float64        `json:"steps"`  // of a degree
	Signs    []mapfile.Sign `json:"signs"`
	Labels   []string       `json:"labels"` // of the rows of a stand's card
	Rules    []string       `json:"rules"`  // requirements, each once
	Streams  []path         `json:"streams"`
	Zones    []area         `json:"zones"`
	Reaches  []path         `json:"reaches"`
	Stands   []card         `json:"stands"`
	Earlier  []earlier      `json:"earlier"` // stands as the batch before knew them
	Absent   []area         `json:"absent"`
	Points   []point        `json:"points"`
	Works    []area         `json:"works"`
	Turn     []turn         `json:"turn"` // the work in its order, for "the first 5 acres"
	Planned  bool           `json:"planned"`
}

// path is a line: its sign, its name, and its places.
type path struct {
	Sign int    `json:"k"`
	Name string `json:"n,omitempty"`
	Line []int  `json:"p"`
}

// area is polygons, and lines and points where a work has these.
type area struct {
	Sign  int       `json:"k"`
	Name  string    `json:"n"`
	Rings [][][]int `json:"g"`
	Lines [][]int   `json:"p,omitempty"`
}

// card is one stand and what is told of it.
type card struct {
	ID      string    `json:"id"`
	Order   int       `json:"o"` // 0 where no treatment is asked for
	Sign    int       `json:"k"`
	Water   string    `json:"w"`
	At      []int     `json:"c"`
	Rings   [][][]int `json:"g"`
	ToDo    []string  `json:"d"` // what to do, a line each
	Rules   []int     `json:"r"` // into data.Rules
	Values  []string  `json:"v"` // by data.Labels
	Change  string    `json:"h"`
	Overdue bool      `json:"late"`
	InZone  bool      `json:"zone"`
}

// earlier is a stand as it was known.
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

// turn is a piece of work: a stand, by its number, and its acres.
type turn struct {
	Stand int     `json:"s"`
	Acres float64 `json:"a"`
	When  string  `json:"q,omitempty"` // the quarter it is planned for
}

// mostPoints is how many survey points the page holds. Our choice: more hide the map
// under them, and points.geojson has all.
const mostPoints = 20000

// gather puts together what the page needs.
func gather(run *result.Run) data {
	g := gatherer{run: run, signs: map[string]int{}, rules: map[string]int{}}
	g.out = data{Quarter: run.Quarter.String(), Cautions: result.Cautions(run), Signs: mapfile.Signs(run), Steps: steps,
		// none is an empty list to the page's program, never null
		Labels: []string{}, Rules: []string{}, Streams: []path{}, Zones: []area{}, Reaches: []path{}, Stands: []card{},
		Earlier: []earlier{}, Absent: []area{}, Points: []point{}, Works: []area{}, Turn: []turn{},
	}
	for i, s := range g.out.Signs {
		g.signs[s.ID] = i
	}
	g.grid = newGrid(run)
	g.out.Origin = [2]float64{g.grid.origin[0], g.grid.origin[1]}
	if run.Previous != nil {
		g.out.Before = run.Previous.Quarter.String()
	}
	g.water()
	g.stands()
	g.chain()
	g.survey()
	g.works()
	g.turns()
	return g.out
}

type gatherer struct {
	run   *result.Run
	grid  grid
	signs map[string]int // by id
	rules map[string]int // by text
	out   data
}

// water adds streams, zones and reaches.
func (g *gatherer) water() {
	if n := g.run.Network; n != nil {
		for e, line := range n.Paths {
			g.out.Streams = append(g.out.Streams, path{Sign: -1, Name: n.Lines[n.Net.Edges[e].Line].Name, Line: g.grid.line(line)})
		}
	}
	for i := range g.run.Zones {
		z := &g.run.Zones[i]
		g.out.Zones = append(g.out.Zones, area{Sign: g.signs[mapfile.SignOfZone()], Name: z.WaterBody, Rings: g.grid.polygons(z.Geometry)})
	}
	for i := range g.run.Reaches {
		if r := &g.run.Reaches[i]; r.Stage == 0 {
			g.out.Reaches = append(g.out.Reaches, path{Sign: g.signs[mapfile.SignOfReach(r.Class)], Line: g.grid.line(r.Path)})
		}
	}
}

// cardFields are the rows of a stand's card, after what to do; stands.csv has the rest.
var cardFields = []string{
	field.ManagementStatus, field.InfestedAcres, field.InfestedAcresP10, field.InfestedAcresP90, field.GrossAcres, field.CanopyAcres, field.ZoneAcres, field.CarriedAcres,
	field.ReachKm, field.ReachAloneKm, "flood_reach_km", field.Exposure, "first_detected", "last_detected", "change", field.RiverKm, field.UnitID, "points",
}

// stands adds the stands with their cards.
func (g *gatherer) stands() {
	table := result.StandTable(g.run)
	var columns []int
	for _, name := range cardFields {
		for k, f := range table.Fields {
			if f.Name == name {
				columns, g.out.Labels = append(columns, k), append(g.out.Labels, f.Label)
			}
		}
	}
	late := g.overdue()
	var row []result.Value
	for i := range g.run.Stands {
		s := &g.run.Stands[i]
		row = table.Row(g.run, i, row)
		one := card{
			ID: s.ID, Sign: g.signs[mapfile.SignOfStand(s)], At: g.grid.place(s.Footprint.Inside(s.Center)), Rings: g.grid.polygons(s.Footprint.Polygons()),
			Change: string(s.Change), Overdue: late[i], InZone: s.Zone.InZone, Rules: []int{}, ToDo: []string{},
		}
		if k := int(s.Zone.Line); k >= 0 && k < len(g.run.Centerlines) {
			one.Water = g.run.Centerlines[k].Name
		}
		if s.AsksTreatment() {
			one.Order = s.Plan.Order
		}
		if s.FollowUp != "" {
			one.ToDo = append(one.ToDo, s.FollowUp)
		}
		for _, rule := range s.Plan.Requirements {
			one.Rules = append(one.Rules, g.rule(rule))
		}
		for _, k := range columns {
			one.Values = append(one.Values, mapfile.Told(table.Fields[k], row[k]))
		}
		g.out.Stands = append(g.out.Stands, one)
	}
}

// rule returns the number of a requirement, which is kept once.
func (g *gatherer) rule(text string) int {
	k, known := g.rules[text]
	if !known {
		k = len(g.out.Rules)
		g.rules[text] = k
		g.out.Rules = append(g.out.Rules, text)
	}
	return k
}

// overdue returns by stand whether a visit to it is overdue.
func (g *gatherer) overdue() []bool {
	late := make([]bool, len(g.run.Stands))
	for i := range g.run.Visits {
		if v := &g.run.Visits[i]; v.Stand >= 0 && v.DaysOverdue(g.run.Quarter.End()) > 0 {
			late[v.Stand] = true
		}
	}
	return late
}

// chain adds stands as the batch before knew them, and those not detected since.
func (g *gatherer) chain() {
	if g.run.Previous == nil {
		return
	}
	for i := range g.run.Previous.Known {
		k := &g.run.Previous.Known[i]
		if k.Absent {
			continue
		}
		g.out.Earlier = append(g.out.Earlier, earlier{ID: k.ID, Fate: string(g.run.Previous.Fates[i]), Rings: g.grid.polygons(k.Footprint.Polygons())})
	}
	for i := range g.run.Absent {
		a := &g.run.Absent[i]
		g.out.Absent = append(g.out.Absent, area{Sign: g.signs[mapfile.SignOfAbsent()], Name: a.ID + ", not detected since " + a.Since.String(), Rings: g.grid.polygons(a.Footprint.Polygons())})
	}
}

// survey adds the survey points, where they are not too many.
func (g *gatherer) survey() {
	if len(g.run.Records) > mostPoints {
		return
	}
	for i := range g.run.Records {
		r := &g.run.Records[i]
		g.out.Points = append(g.out.Points, point{Sign: g.signs[mapfile.SignOfPoint(r)], Name: r.ID, At: g.grid.place(r.Position)})
	}
}

// works adds planned works to warn, each once.
func (g *gatherer) works() {
	seen := map[int32]bool{}
	for i := range g.run.Notices {
		n := &g.run.Notices[i]
		if seen[int32(n.Work)] {
			continue
		}
		seen[int32(n.Work)] = true
		w := &g.run.Works[n.Work]
		one := area{Sign: g.signs[mapfile.SignOfWork()], Name: w.Kind + " " + w.ID, Rings: g.grid.polygons(w.Areas)}
		for _, line := range w.Lines {
			one.Lines = append(one.Lines, g.grid.line(line))
		}
		for _, p := range w.Points {
			one.Lines = append(one.Lines, g.grid.place(p))
		}
		g.out.Works = append(g.out.Works, one)
	}
}

// turns adds the work in its order: the plan's where there is one, else first
// treatments in the order of treatment.
func (g *gatherer) turns() {
	if g.run.Plan != nil {
		g.out.Planned = true
		for i := range g.run.Plan.Rows {
			r := &g.run.Plan.Rows[i]
			g.out.Turn = append(g.out.Turn, turn{Stand: int(r.Stand), Acres: tidy(float64(r.Acres)), When: r.Quarter.String()})
		}
		return
	}
	for i := range g.run.Stands {
		s := &g.run.Stands[i]
		if s.AsksTreatment() {
			acres := float64(s.Infested.Acres()) * (1 - s.Done.Share)
			g.out.Turn = append(g.out.Turn, turn{Stand: i, Acres: tidy(acres)})
		}
	}
}

// tidy rounds acres to what the tables print.
func tidy(acres float64) float64 { return math.Round(acres*1e4) / 1e4 }
