package main

import (
	"runtime"

	"driftreach/internal/part"
)

// maker is the split, with version and machine, of everything this program computes here.
func maker() part.Split {
	return part.Split{Format: part.Format, Version: version, Machine: runtime.GOARCH}
}

// sameMaker refuses what another version of the program made, or another processor family, which may
// round the last bit differently.
func sameMaker(what string, made part.Split) error {
	here := maker()
	if made.Format == here.Format && made.Version == here.Version && made.Machine == here.Machine {
		return nil
	}
	return &part.Error{Problem: what + ": " + here.Differs(&made), Remedy: "use one version and one family of processors everywhere, and split again"}
}
