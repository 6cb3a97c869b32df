package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/spf13/pflag"

	"driftreach/internal/disk"
)

// completionOf writes the script of a shell to a file.
func completionOf(t *testing.T, shell string) string {
	t.Helper()
	var out, told bytes.Buffer
	p := &program{ctx: t.Context(), stdout: &out, stderr: &told, disk: disk.System()}
	if exit := p.report(p.run([]string{"completion", shell})); exit != exitDone {
		t.Fatalf("exit %d: %s", exit, told.String())
	}
	file := filepath.Join(t.TempDir(), "completion")
	if err := os.WriteFile(file, out.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return file
}

// shellOut runs a shell's command in a folder with one file and one folder in it.
func shellOut(t *testing.T, shell string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(shell)
	if err != nil {
		t.Skipf("%s is not there", shell)
	}
	c := exec.Command(path, args...)
	c.Dir = t.TempDir()
	if err := os.WriteFile(filepath.Join(c.Dir, "my finds.csv"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(c.Dir, "2026Q2"), 0o700); err != nil {
		t.Fatal(err)
	}
	text, err := c.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	return string(text)
}

// completions lists what the last word of a line may become, sorted.
var completions = []struct {
	line string
	want []string
}{
	{"driftreach ba", []string{"batch"}},
	{"driftreach batch --st", []string{"--stage", "--streams", "--streams-crs"}},
	{"driftreach batch --stage ", []string{"base", "both", "flood"}},
	{"driftreach check --points my", []string{"my finds.csv"}},
	{"driftreach batch --previous 20", []string{"2026Q2"}},
	{"driftreach trend 20", []string{"2026Q2"}},
	{"driftreach check --set stands.min", []string{"stands.min_points="}},
	{"driftreach completion f", []string{"fish"}},
	{"driftreach batch --quarter ", nil},
}

// TestBashCompletion asks bash itself.
func TestBashCompletion(t *testing.T) {
	file := completionOf(t, "bash")
	for _, c := range completions {
		words := strings.Split(c.line, " ")
		script := "source " + file + "; COMP_WORDS=("
		for _, word := range words {
			script += " '" + word + "'"
		}
		script += "); COMP_CWORD=$((${#COMP_WORDS[@]}-1)); _driftreach; printf '%s\\n' \"${COMPREPLY[@]}\""
		got := strings.FieldsFunc(shellOut(t, "bash", "--norc", "-c", script), func(r rune) bool { return r == '\n' })
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.line, got, c.want)
		}
	}
}

// TestFishCompletion asks fish itself.
func TestFishCompletion(t *testing.T) {
	file := completionOf(t, "fish")
	for _, c := range completions {
		text := shellOut(t, "fish", "--no-config", "-c", "source "+file+"; complete -C '"+c.line+"'")
		var got []string
		for line := range strings.Lines(text) {
			word, _, _ := strings.Cut(strings.TrimSpace(line), "\t")
			got = append(got, strings.TrimSuffix(strings.ReplaceAll(word, `\ `, " "), "/"))
		}
		slices.Sort(got)
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.line, got, c.want)
		}
	}
}

// TestZshCompletion: zsh reads the script and knows the function.
func TestZshCompletion(t *testing.T) {
	file := completionOf(t, "zsh")
	got := shellOut(t, "zsh", "-f", "-c", "autoload -U compinit; compinit -u -D; source "+file+"; print ${_comps[driftreach]}")
	if strings.TrimSpace(got) != "_driftreach" {
		t.Errorf("zsh says %q", got)
	}
}

// TestPowerShellCompletion: PowerShell, if installed, parses the script; in any case the script has
// every command and flag.
func TestPowerShellCompletion(t *testing.T) {
	file := completionOf(t, "powershell")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range new(program).commands() {
		if !strings.Contains(string(text), "'"+c.name+"' = @(") {
			t.Errorf("%s is missing", c.name)
		}
		c.flags.VisitAll(func(f *pflag.Flag) {
			if !strings.Contains(string(text), "'--"+f.Name+"'") {
				t.Errorf("--%s of %s is missing", f.Name, c.name)
			}
		})
	}
	for _, pair := range []string{"{}", "()", "[]"} {
		if strings.Count(string(text), pair[:1]) != strings.Count(string(text), pair[1:]) {
			t.Errorf("%s do not pair", pair)
		}
	}
	got := shellOut(t, "pwsh", "-NoProfile", "-Command", ". { "+string(text)+" }; (TabExpansion2 'driftreach batch --st' 21).CompletionMatches.CompletionText")
	if strings.Join(strings.Fields(got), " ") != "--streams --streams-crs --stage" {
		t.Errorf("%q", got)
	}
}

// TestHelpFits: piped, no line of any command's help is wider than 80 columns, and
// every flag of a command with many is in one of the four groups.
func TestHelpFits(t *testing.T) {
	for _, c := range new(program).commands() {
		var out bytes.Buffer
		p := &program{ctx: t.Context(), stdout: &out, stderr: &out, disk: disk.System()}
		if exit := p.report(p.run([]string{c.name, "--help"})); exit != exitDone {
			t.Errorf("%s: exit %d", c.name, exit)
		}
		for line := range strings.Lines(out.String()) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > plainWidth {
				t.Errorf("%s: %d columns: %s", c.name, n, line)
			}
		}
		if strings.Contains(out.String(), "\nOther:\n") {
			t.Errorf("%s has flags in no group:\n%s", c.name, out.String())
		}
	}
	var out bytes.Buffer
	p := &program{ctx: t.Context(), stdout: &out, stderr: &out, disk: disk.System()}
	p.report(p.run([]string{"batch", "--help"}))
	at := 0
	for _, name := range []string{inputGroup, outputGroup, systemGroup, settingsGroup} {
		k := strings.Index(out.String(), "\n"+name+":\n")
		if k < at {
			t.Errorf("%s is not there, or not in its place", name)
		}
		at = k
	}
}

// TestHelpFitsNarrowTerminals: at the narrowest width and at others, no line of help is wider,
// except words and commands that cannot be broken; text beside a word stays aligned.
func TestHelpFitsNarrowTerminals(t *testing.T) {
	for _, columns := range []int{narrowsHelp, 60, 72, 76, widestHelp} {
		var out bytes.Buffer
		p := &program{ctx: t.Context(), stdout: &out, stderr: &out, disk: disk.System()}
		printCommands(&out, columns, p.commands())
		for _, c := range p.commands() {
			p.printHelp(c, columns)
		}
		for line := range strings.Lines(out.String()) {
			if n := len([]rune(strings.TrimRight(line, "\n"))); n > columns {
				t.Errorf("%d columns in %d: %s", n, columns, line)
			}
		}
	}
	const want = "Exit codes:\n  0    done\n  1    done, but some records were rejected: see\n       the findings\n"
	if got := exitText(narrowsHelp); !strings.HasPrefix(got, want) {
		t.Errorf("%s", got)
	}
}

// TestWrapped: by hand.
func TestWrapped(t *testing.T) {
	for _, c := range []struct{ text, indent, more, want string }{
		{"one two three", "", "", "one two\nthree"}, {"one two three", "  ", ` \`, "one \\\n  two \\\n  three"},
		{"a-word-too-long for it", "", "", "a-word-too-long\nfor it"}, {"", "", "", ""}, {"one", "", "", "one"},
	} {
		if got := wrapped(c.text, c.indent, c.more, 8); got != c.want {
			t.Errorf("%q: %q, want %q", c.text, got, c.want)
		}
	}
}
