package main

import (
	"flag"
	"html"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"

	"driftreach/internal/result"
)

var update = flag.Bool("update", false, "rewrite the pages of the reference and the list of testdata")

func TestReadmeTablesAreTheProgramsOwn(t *testing.T) {
	for name, want := range generated() {
		path := filepath.Join("reference", name)
		got, err := os.ReadFile(path)
		if string(got) == want {
			continue
		}
		if !*update {
			t.Errorf("%s is not what the program makes (%v); `go test ./cmd/driftreach -run Readme -update` writes it", path, err)
			continue
		}
		if err := os.WriteFile(path, []byte(want), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// TestMethodsSayWhatIsAtRisk: the methods page uses the words of the dictionary and the map.
func TestMethodsSayWhatIsAtRisk(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("reference", "methods.md"))
	if err != nil {
		t.Fatal(err)
	}
	methods := strings.Join(strings.Fields(strings.ReplaceAll(string(text), "`", "")), " ")
	for _, rule := range []string{result.RiskRule, result.ReachRule, result.PossibleRule, result.HoursRule[:len(result.HoursRule)-1]} {
		if !strings.Contains(methods, rule) {
			t.Errorf("methods.md does not say: %s", rule)
		}
	}
}

// TestFilesSayWhatIsAtRisk: the map, its cautions and the page define it in the words of the
// dictionary.
func TestFilesSayWhatIsAtRisk(t *testing.T) {
	batch := filepath.Join(demoToRead(t), "2026Q3")
	rule := strings.Replace(result.RiskRule, "drift.risk_share", "5 %", 1)
	for name, want := range map[string][]string{
		"map.kml":     {result.RiskRule, result.PossibleRule, result.HoursRule, rule},
		"report.html": {rule},
	} {
		text, err := os.ReadFile(filepath.Join(batch, name))
		if err != nil {
			t.Fatal(err)
		}
		plain := html.UnescapeString(string(text))
		for _, w := range want {
			if !strings.Contains(plain, w) {
				t.Errorf("%s does not say: %s", name, w)
			}
		}
	}
}

// TestOutputsPageNamesEveryFile: the page of the outputs has every file of a batch and of a
// trend.
func TestOutputsPageNamesEveryFile(t *testing.T) {
	page, err := os.ReadFile(filepath.Join("reference", "outputs.md"))
	if err != nil {
		t.Fatal(err)
	}
	demo := demoToRead(t)
	for _, folder := range []string{"2026Q3", "trend"} {
		entries, err := os.ReadDir(filepath.Join(demo, folder))
		if err != nil || len(entries) < 5 {
			t.Fatalf("%d files in %s: %v", len(entries), folder, err)
		}
		for _, e := range entries {
			if !strings.Contains(string(page), "`"+e.Name()+"`") {
				t.Errorf("outputs.md does not name %s/%s", folder, e.Name())
			}
		}
	}
}

var fence = regexp.MustCompile("(?ms)^```(\\w*)\n(.*?)^```$")

// script turns the README's blocks into a transcript: shell lines that call the program become
// calls, and a TOML block that names a file becomes the file. Lines that build and test are left
// out, since this test run does that.
func script(readme string) string {
	var calls, files strings.Builder
	for _, block := range fence.FindAllStringSubmatch(readme, -1) {
		if name, ok := strings.CutPrefix(strings.SplitN(block[2], "\n", 2)[0], "# "); ok && block[1] == "toml" {
			files.WriteString("-- " + name + ".example --\n" + block[2])
			calls.WriteString("exec driftreach settings --settings " + name + ".example\n")
		}
		if block[1] != "sh" {
			continue
		}
		for line := range strings.Lines(block[2]) {
			calls.WriteString(call(strings.TrimSpace(line)))
		}
	}
	return calls.String() + files.String()
}

func call(line string) string {
	for _, start := range []string{"go run ./cmd/driftreach ", "./driftreach "} {
		if args, ok := strings.CutPrefix(line, start); ok {
			if args == "demo --out demo" { // as interrupt.txtar runs it
				return "demo demo\n"
			}
			command, into, redirected := strings.Cut(args, " > ")
			if redirected {
				return "exec driftreach " + command + "\ncp stdout " + into + "\n"
			}
			return "exec driftreach " + args + "\n"
		}
	}
	if line == "bash scripts/test" || line == `CGO_ENABLED=0 go build -trimpath -ldflags "-s -w" -o driftreach ./cmd/driftreach` {
		return ""
	}
	return "stop 'the test cannot run this block: " + line + "'\n"
}

// The blocks of the README and of the page on user data are run unchanged, in order, in an empty
// folder. Each must end with exit code 0.
func TestReadmeBlocksRun(t *testing.T) {
	if testing.Short() {
		t.Skip("runs the demo and several batches; left out of short tests")
	}
	var text strings.Builder
	for _, page := range []string{filepath.Join(top, "README.md"), filepath.Join("reference", "your-data.md")} {
		part, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		text.Write(part)
	}
	dir := t.TempDir()
	transcript := script(text.String())
	for _, must := range []string{"demo demo", "exec driftreach batch", "exec driftreach check", "exec driftreach trend", "cp stdout settings.toml"} {
		if !strings.Contains(transcript, must) {
			t.Errorf("the README has no block with %q", must)
		}
	}
	if strings.Contains(transcript, "stop '") {
		t.Errorf("a block that the test cannot run:\n%s", transcript)
	}
	if err := os.WriteFile(filepath.Join(dir, "readme.txtar"), []byte(transcript), 0o666); err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{Dir: dir, Cmds: map[string]func(*testscript.TestScript, bool, []string){"demo": copyDemo}})
}

// Every link in the documents to a file of the project has a target.
func TestDocumentsNameFilesThatAreThere(t *testing.T) {
	code := regexp.MustCompile("`((?:cmd|geo|internal|scripts|testdata)/[\\w./*-]*|[A-Z]+(?:\\.md)?)`")
	link := regexp.MustCompile(`\]\(([^)#:]+)(?:#[^)]*)?\)`)
	documents := []string{"README.md", "DEVELOPERS.md", "CHANGELOG.md", "scripts/MEASURED.md"}
	pages, _ := filepath.Glob(filepath.Join("reference", "*.md"))
	for _, page := range pages {
		documents = append(documents, "cmd/driftreach/"+filepath.ToSlash(page))
	}
	for _, document := range documents {
		text, err := os.ReadFile(filepath.Join(top, document))
		if err != nil {
			t.Fatal(err)
		}
		for _, match := range code.FindAllStringSubmatch(string(text), -1) {
			if found, _ := filepath.Glob(filepath.Join(top, filepath.FromSlash(match[1]))); len(found) == 0 && strings.ContainsAny(match[1], "/.") {
				t.Errorf("%s names %s, which is not there", document, match[1])
			}
		}
		for _, match := range link.FindAllStringSubmatch(string(text), -1) {
			if _, err := os.Stat(filepath.Join(top, filepath.Dir(document), filepath.FromSlash(match[1]))); err != nil {
				t.Errorf("%s links to %s, which is not there", document, match[1])
			}
		}
	}
}

// The table of scripts in DEVELOPERS.md lists exactly the existing scripts.
func TestDevelopersNameEveryScript(t *testing.T) {
	text, err := os.ReadFile(filepath.Join(top, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, table, _ := strings.Cut(string(text), "\n| in `scripts/` | what it does |\n|---|---|\n")
	table, _, _ = strings.Cut(table, "\n\n")
	named := map[string]bool{}
	for row := range strings.SplitSeq(table, "\n") {
		names, what, _ := strings.Cut(strings.TrimPrefix(row, "|"), "|")
		if strings.Trim(what, " |") == "" {
			t.Errorf("%q does not say what it does", row)
		}
		for _, match := range regexp.MustCompile("`([^` ]+)[^`]*`").FindAllStringSubmatch(names, -1) {
			found, _ := filepath.Glob(filepath.Join(top, "scripts", strings.TrimPrefix(match[1], "scripts/")))
			if len(found) == 0 {
				t.Errorf("the table names %s, which is not in scripts/", match[1])
			}
			for _, path := range found {
				named[filepath.Base(path)] = true
			}
		}
	}
	there, err := os.ReadDir(filepath.Join(top, "scripts"))
	if err != nil {
		t.Fatal(err)
	}
	for _, entry := range there {
		if !named[entry.Name()] {
			t.Errorf("scripts/%s is not in the table of DEVELOPERS.md", entry.Name())
		}
	}
}
