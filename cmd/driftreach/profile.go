package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/pprof"
)

// profileVariable is the environment variable that asks for a profile of a run, for developers. If its
// value is NAME, NAME.cpu and NAME.mem are written for go tool pprof.
const profileVariable = "DRIFTREACH_PROFILE"

// profile begins to measure processor time if the variable asks for it. The returned function ends that
// and writes both files. If a profile cannot be written, this is reported on w and changes nothing
// else.
func profile(w io.Writer) (stop func()) {
	name := os.Getenv(profileVariable)
	if name == "" {
		return func() {}
	}
	cpu, err := os.Create(name + ".cpu")
	if err == nil {
		err = pprof.StartCPUProfile(cpu)
	}
	if err != nil {
		fmt.Fprintln(w, "profile:", err)
		return func() {}
	}
	return func() {
		pprof.StopCPUProfile()
		if err := errors.Join(cpu.Close(), writeAllocations(name+".mem")); err != nil {
			fmt.Fprintln(w, "profile:", err)
		}
	}
}

// writeAllocations writes the allocations of the run, by call, to a file.
func writeAllocations(path string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	runtime.GC()
	return errors.Join(pprof.Lookup("allocs").WriteTo(f, 0), f.Close())
}
