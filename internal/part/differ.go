package part

import (
	"fmt"
	"slices"
)

// Differs names a difference between this split and another, the one that a person would change first;
// blank if there is none.
func (p *Split) Differs(o *Split) string {
	switch {
	case p.ID() == o.ID():
		return ""
	case p.Format != o.Format:
		return "it was made by another driftreach, whose parts hold other things"
	case p.Version != o.Version:
		return fmt.Sprintf("it was made by driftreach %s, and this is driftreach %s", o.Version, p.Version)
	case p.Machine != o.Machine:
		return fmt.Sprintf("it was made on %s, and this is %s, which may round the last bit of a figure otherwise", o.Machine, p.Machine)
	case p.Quarter != o.Quarter:
		return fmt.Sprintf("it is of %s, not of %s", o.Quarter, p.Quarter)
	}
	for _, in := range p.Inputs {
		at := slices.IndexFunc(o.Inputs, func(other Input) bool { return other.Role == in.Role && other.Name == in.Name })
		if at < 0 {
			return fmt.Sprintf("it was cut without %s (%s)", in.Name, in.Role)
		}
		if o.Inputs[at].SHA256 != in.SHA256 {
			return fmt.Sprintf("%s (%s) is another file now than when it was cut", in.Name, in.Role)
		}
	}
	for _, in := range o.Inputs {
		if !slices.ContainsFunc(p.Inputs, func(other Input) bool { return other.Role == in.Role && other.Name == in.Name }) {
			return fmt.Sprintf("it was cut with %s (%s) too", in.Name, in.Role)
		}
	}
	switch {
	case p.Settings != o.Settings:
		return "it was cut with other settings"
	case p.Parts != o.Parts:
		return fmt.Sprintf("it is one of %d parts, not of %d", o.Parts, p.Parts)
	case !slices.Equal(p.Command, o.Command):
		return "it was cut with other flags"
	}
	return "what was read is not what it was cut from"
}
