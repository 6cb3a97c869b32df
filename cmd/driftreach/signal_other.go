//go:build !unix

package main

// ignoreFileSizeSignal does nothing on systems without that signal.
func ignoreFileSizeSignal() {}
