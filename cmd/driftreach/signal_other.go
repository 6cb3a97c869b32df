//go:build !unix

package main

// ignoreFileSizeSignal does nothing where there is no such signal.
func ignoreFileSizeSignal() {}
