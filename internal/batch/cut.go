package batch

import (
	"encoding/json"

	"driftreach/internal/aquatic"
	"driftreach/internal/mapfile"
	"driftreach/internal/observed"
	"driftreach/internal/part"
	"driftreach/internal/settings"
	"driftreach/internal/stand"
	"driftreach/internal/stream"
	"driftreach/internal/survey"
)

// Cutting is one quarter's input, ready to be cut into parts.
type Cutting struct {
	Plan part.Plan

	records []survey.Record // with the fields that parts need, and no others
	rules   stand.Settings
	pieces  []aquatic.Piece
	deal    part.Deal
}

// Cut divides the heavy work of a quarter among the parts of a plan, which says how many parts there
// are and how they are cut. Describe fills in the rest of the plan. Cut takes the quarter over, and
// frees what no part needs before it connects the streams.
func Cut(in observed.Quarter, files []mapfile.File, s settings.Settings, p part.Plan) (*Cutting, error) {
	rules, err := s.Stages()
	if err != nil {
		return nil, err
	}
	c := &Cutting{rules: rules.Stands}
	if c.Plan, err = Describe(&in, files, s, p); err != nil {
		return nil, err
	}
	part.Strip(in.Records)
	c.records = in.Records
	lines, barriers, water := in.Centerlines, in.Barriers, in.Water
	in = observed.Quarter{} // free the rest: texts, the previous batch and so on
	net, _ := stream.Connect(lines, barriers, water, rules.Network)
	c.pieces = aquatic.NewWater(net, rules.Aquatic).Pieces()
	c.Plan.Pieces = len(c.pieces)
	c.deal = part.NewDeal(c.records, c.pieces, c.rules, p.Parts)
	return c, nil
}

// Describe completes a plan with what was read: the files, the settings in use and the number of
// records.
func Describe(in *observed.Quarter, files []mapfile.File, s settings.Settings, p part.Plan) (part.Plan, error) {
	text, err := json.Marshal(s)
	if err != nil {
		return p, err
	}
	p.Quarter, p.Settings, p.Records = in.Quarter.String(), string(text), len(in.Records)
	p.Inputs, p.Detected = nil, 0
	for _, f := range files {
		p.Inputs = append(p.Inputs, part.Input{Role: f.Role, Name: f.Name, SHA256: f.SHA256})
	}
	for i := range in.Records {
		if in.Records[i].Detected {
			p.Detected++
		}
	}
	return p, nil
}

// Part returns the part with the given number, counted from 1.
func (c *Cutting) Part(number int) part.Part {
	return c.deal.Part(number-1, c.records, c.pieces, c.rules)
}
