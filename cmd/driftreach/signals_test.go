package main

import (
	"os"
	"syscall"
)

var signals = map[string]os.Signal{"INT": os.Interrupt, "TERM": syscall.SIGTERM}
