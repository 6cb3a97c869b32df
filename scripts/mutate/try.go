package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"time"
)

// outcome is the result of the tests for a change.
type outcome string

const (
	noticed  outcome = "noticed"
	late     outcome = "noticed by the time limit"
	survived outcome = "NOT NOTICED"
	unbuilt  outcome = "does not compile"
)

// test runs a package's tests with the change, or without any, and returns the result and the
// output. Words after the package's name may select tests. Tests that run longer than the limit, or
// use more than 6 GB, count as having noticed.
func test(of string, c *change, limit time.Duration) (outcome, string) {
	args := []string{"test", "-short", "-failfast", "-vet=off", "-timeout", limit.String()}
	if _, err := exec.LookPath("prlimit"); err == nil {
		args = append(args, "-exec", "prlimit --as=6000000000")
	}
	if c != nil {
		overlay, clear, err := c.overlay()
		if err != nil {
			return unbuilt, err.Error()
		}
		defer clear()
		args = append(args, "-overlay", overlay)
	}
	command := exec.Command("go", append(args, strings.Fields(of)...)...)
	// short tests draw a fifth of the checks, as in scripts/test
	command.Env = append(os.Environ(), "RAPID_SEED=1", "RAPID_CHECKS=200", "RAPID_NOFAILFILE=true")
	said, err := command.CombinedOutput()
	switch {
	case err == nil:
		return survived, string(said)
	case strings.Contains(string(said), "[build failed]") || strings.Contains(string(said), "[setup failed]"):
		return unbuilt, string(said)
	case strings.Contains(string(said), "panic: test timed out after"):
		return late, string(said)
	}
	return noticed, string(said)
}

// overlay writes the changed file, and the JSON that tells the compiler to use it in place of the
// source.
func (c change) overlay() (table string, clear func(), err error) {
	text, err := os.ReadFile(c.path)
	if err != nil {
		return "", nil, err
	}
	dir, err := os.MkdirTemp("", "mutate-")
	if err != nil {
		return "", nil, err
	}
	clear = func() { os.RemoveAll(dir) }
	source, err := filepath.Abs(c.path)
	if err != nil {
		return "", clear, err
	}
	changed := filepath.Join(dir, filepath.Base(c.path))
	table = filepath.Join(dir, "overlay.json")
	said, err := json.Marshal(map[string]map[string]string{"Replace": {source: changed}})
	if err != nil {
		return "", clear, err
	}
	after := string(text[:c.begin]) + c.after + string(text[c.end:])
	return table, clear, errors.Join(os.WriteFile(changed, []byte(after), 0o600), os.WriteFile(table, said, 0o600))
}

// readEquivalents returns the reasons, by change. A missing file has none.
func readEquivalents(path string) (map[string]string, error) {
	text, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, err
	}
	known := map[string]string{}
	for i, line := range strings.Split(string(text), "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Split(line, "\t")
		if len(words) != 4 || words[3] == "" {
			return nil, fmt.Errorf("%s, line %d: want file, line of source, change and reason", path, i+1)
		}
		words[1] = code(words[1])
		known[strings.Join(words[:3], "\t")] = words[3]
	}
	return known, nil
}
