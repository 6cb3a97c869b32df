// Command viewlegend makes the picture of the map's legend again after its appearance has changed:
// the page as text, and the picture with chromium.
//
//	go run ./scripts/viewlegend
package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"

	"driftreach/internal/mapfile"
)

func main() {
	if err := draw(); err != nil {
		fmt.Fprintln(os.Stderr, "viewlegend:", err)
		os.Exit(1)
	}
}

func draw() error {
	page, err := filepath.Abs("testdata/mapfile/legend.html")
	if err != nil {
		return err
	}
	if err := os.WriteFile(page, []byte(mapfile.LegendPage()), 0o644); err != nil {
		return err
	}
	return exec.Command("chromium", "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars",
		"--default-background-color=00000000", "--window-size=244,290",
		"--screenshot=internal/mapfile/legend.png", "file://"+page).Run()
}
