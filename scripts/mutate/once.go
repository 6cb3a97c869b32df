package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"time"
)

// readOnce returns the changes that once passed all tests, each with the package whose tests must
// notice it. The changed text must occur exactly once in its file.
func readOnce(path string) (changes []change, packages []string, err error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, nil, err
	}
	plain := strings.NewReplacer(`\n`, "\n", `\t`, "\t")
	for i, line := range strings.Split(strings.TrimSpace(string(text)), "\n") {
		if strings.HasPrefix(line, "#") {
			continue
		}
		words := strings.Split(line, "\t")
		if len(words) != 4 {
			return nil, nil, fmt.Errorf("%s, line %d: want file, before, after and package", path, i+1)
		}
		source, err := os.ReadFile(words[0])
		if err != nil {
			return nil, nil, err
		}
		before, after := plain.Replace(words[1]), plain.Replace(words[2])
		if n := strings.Count(string(source), before); n != 1 {
			return nil, nil, fmt.Errorf("%s, line %d: %q stands in %s %d times", path, i+1, before, words[0], n)
		}
		at := strings.Index(string(source), before)
		changes = append(changes, change{
			path: words[0], begin: at, end: at + len(before), before: before, after: after,
			line: 1 + strings.Count(string(source[:at]), "\n"), text: words[1],
		})
		packages = append(packages, words[3])
	}
	return changes, packages, nil
}

// tryOnce tries them all and fails when one is not noticed, or when the tests fail without a change.
func tryOnce(path string) error {
	changes, packages, err := readOnce(path)
	if err != nil {
		return err
	}
	for _, of := range slices.Compact(slices.Sorted(slices.Values(packages))) {
		if outcome, said := test(of, nil, 10*time.Minute); outcome != survived {
			return fmt.Errorf("the tests of %s fail without a change\n%s", of, said)
		}
	}
	passed := 0
	for i, c := range changes {
		outcome, _ := test(packages[i], &c, 10*time.Minute)
		fmt.Printf("%s by %s: %s\n", outcome, packages[i], c)
		if outcome != noticed && outcome != late {
			passed++
		}
	}
	if passed > 0 {
		return fmt.Errorf("%d of %d changes that passed once pass again", passed, len(changes))
	}
	return nil
}
