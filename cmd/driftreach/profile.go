package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/pprof"
)

// profileVariable names the environment variable that asks for a profile of a run,
// for those who work on the program: NAME.cpu and NAME.mem are written for go tool
// pprof, NAME being its value.
const profileVariable = "DRIFTREACH_PROFILE"

// profile begins to measure processor time if the variable asks for it. The function
// that it returns ends that and writes both files. A profile that cannot be written
// is reported on w and changes nothing else.
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

// writeAllocations writes what the run allocated, by call, to a file.
func writeAllocations(path string) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	runtime.GC()
	return errors.Join(pprof.Lookup("allocs").WriteTo(f, 0), f.Close())
}
