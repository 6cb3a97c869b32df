package main

import (
	"encoding/csv"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"driftreach/internal/testkit"
	"driftreach/internal/verify/validate"
)

func TestMain(m *testing.M) {
	testscript.Main(cleaned{m}, map[string]func(){"driftreach": main})
}

// TestTranscripts runs the program as a user does; testdata/script has the commands and the
// expected results.
func TestTranscripts(t *testing.T) {
	params := testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exit":      exits,
			"demo":      copyDemo,
			"same":      same,
			"validates": validates,
			"events":    events,
			"only":      only,
			"interrupt": interrupt,
			"shuffle":   shuffle,
			"smalldisk": smallDisk,
			"column":    columnOf,
			"parts":     inParts,
			"region":    makeRegion,
		},
		Condition: condition,
		Setup: func(e *testscript.Env) error {
			e.Setenv("DRIFTREACH_STAGES", "")
			for name, folder := range map[string]string{
				"HANDEDIN": filepath.Join("..", "..", "testdata", "handed-in"), "REFUSED": filepath.Join("testdata", "refused"),
				"EARLIER": filepath.Join("testdata", "earlier"), // 2026Q1 and 2026Q2 of format 1, 2026Q3 and 2026Q4 of format 2
			} {
				at, err := filepath.Abs(folder)
				if err != nil {
					return err
				}
				e.Setenv(name, at)
			}
			return nil
		},
	}
	if testing.Short() { // transcripts with every stage of a run
		for _, name := range []string{"batch.txtar", "previous.txtar", "interrupt.txtar"} {
			params.Files = append(params.Files, filepath.Join(params.Dir, name))
		}
		params.Dir = ""
	}
	testscript.Run(t, params)
}

// condition answers [tool:NAME], [smalldisk] and [long].
func condition(c string) (bool, error) {
	if name, ok := strings.CutPrefix(c, "tool:"); ok {
		_, err := exec.LookPath(name)
		return err == nil, nil
	}
	if c == "long" {
		return os.Getenv(longVariable) == "1", nil
	}
	if c == "smalldisk" {
		return runtime.GOOS == "linux" && exec.Command("unshare", "-m", "mount", "-t", "tmpfs", "tmpfs", "/mnt").Run() == nil, nil
	}
	return false, nil
}

// exits runs "exit CODE COMMAND...": the command must end with the code.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exit CODE COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	checkExit(ts, ts.Exec(args[1], args[2:]...), want)
}

// columnOf compares a cell of a table with a value: the cell in a column of the first row whose
// first cell has the given text.
func columnOf(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 4 {
		ts.Fatalf("usage: column FILE FIRST-CELL COLUMN VALUE")
	}
	rows, err := csv.NewReader(strings.NewReader(ts.ReadFile(args[0]))).ReadAll()
	ts.Check(err)
	at := slices.Index(rows[0], args[2])
	i := slices.IndexFunc(rows, func(row []string) bool { return row[0] == args[1] })
	if at < 0 || i < 0 {
		ts.Fatalf("%s has no row %s or no column %s", args[0], args[1], args[2])
	}
	if got := rows[i][at]; got != args[3] {
		ts.Fatalf("%s of %s is %s, want %s", args[2], args[1], got, args[3])
	}
}

func checkExit(ts *testscript.TestScript, err error, want int) {
	got := 0
	if exit, ok := err.(*exec.ExitError); ok {
		got = exit.ExitCode()
	} else if err != nil {
		ts.Fatalf("%v", err)
	}
	if got != want {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// same runs "same DIR DIR": the folders must hold the same files with the same
// bytes.
func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: same DIR DIR")
	}
	first, second := texts(ts, args[0]), texts(ts, args[1])
	if len(first) == 0 || len(first) != len(second) {
		ts.Fatalf("%d files in %s, %d in %s", len(first), args[0], len(second), args[1])
	}
	for name, text := range first {
		if other, ok := second[name]; !ok || other != text {
			ts.Fatalf("%s differs", name)
		}
	}
}

func texts(ts *testscript.TestScript, dir string) map[string]string {
	found := map[string]string{}
	root := ts.MkAbs(dir)
	ts.Check(filepath.WalkDir(root, func(at string, entry os.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := os.ReadFile(at)
		name, _ := filepath.Rel(root, at)
		found[name] = string(text)
		return err
	}))
	return found
}

// only runs "only DIR NAME...": the folder must have exactly these entries, including hidden ones.
func only(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 1 {
		ts.Fatalf("usage: only DIR NAME...")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var got []string
	for _, entry := range entries {
		got = append(got, entry.Name())
	}
	want := slices.Sorted(slices.Values(args[1:]))
	if !slices.Equal(got, want) {
		ts.Fatalf("%s holds %v, want %v", args[0], got, want)
	}
}

// validates runs "validates FILE": a calendar must be valid by RFC 5545, else GeoJSON
// to RFC 7946.
func validates(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: validates FILE")
	}
	world := validate.Bounds{West: -180, South: -90, East: 180, North: 90}
	check := validate.GeoJSON
	if strings.HasSuffix(args[0], ".ics") {
		check = validate.Calendar
	}
	if report := check([]byte(ts.ReadFile(args[0])), world); !report.OK() {
		ts.Fatalf("%s: %v", args[0], report.Problems)
	}
}

// events runs "events CALENDAR WANT": every installed independent parser reads the lines of WANT
// from a calendar, one event per line, with the chain left out of the UIDs; all UIDs have the same
// chain.
func events(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: events CALENDAR WANT")
	}
	read, absent, err := testkit.Events([]byte(ts.ReadFile(args[0])))
	ts.Check(err)
	for _, name := range absent {
		ts.Logf("%s is not installed: %s is not read with it", name, args[0])
	}
	for name, lines := range read {
		got, chains := "", map[string]bool{}
		for _, line := range lines {
			uid, rest, _ := strings.Cut(line, " ")
			names := strings.Split(uid, ".") // stand, kind of event, chain, program
			if len(names) != 4 {
				ts.Fatalf("%s: UID %s", args[0], uid)
			}
			chains[names[2]] = true
			got += names[0] + "." + names[1] + " " + rest + "\n"
		}
		if want := ts.ReadFile(args[1]); got != want || len(chains) != 1 {
			ts.Fatalf("%s by %s, %d chains:\n%swant\n%s", args[0], name, len(chains), got, want)
		}
	}
}

// interrupt runs "interrupt SIGNAL FILE COMMAND...": the command gets the signal as soon as FILE
// exists, and must end with exit code 130.
func interrupt(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: interrupt SIGNAL FILE COMMAND...")
	}
	path, err := exec.LookPath(args[2])
	ts.Check(err)
	command := exec.Command(path, args[3:]...)
	command.Dir = ts.MkAbs(".")
	var stderr strings.Builder
	command.Stderr = &stderr
	ts.Check(command.Start())
	for deadline := time.Now().Add(5 * time.Minute); ; time.Sleep(time.Millisecond) {
		if _, err := os.Stat(ts.MkAbs(args[1])); err == nil {
			break
		}
		if time.Now().After(deadline) {
			_ = command.Process.Kill()
			ts.Fatalf("%s never came", args[1])
		}
	}
	ts.Check(command.Process.Signal(signals[args[0]]))
	checkExit(ts, command.Wait(), exitInterrupted)
	if !strings.Contains(stderr.String(), "interrupted; nothing was left behind") {
		ts.Fatalf("said %q", stderr.String())
	}
}

// shuffle runs "shuffle FILE FILE": writes the first file's lines, header first,
// into the second in another order.
func shuffle(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: shuffle FILE FILE")
	}
	lines := slices.Collect(strings.Lines(ts.ReadFile(args[0])))
	body := lines[1:]
	slices.Reverse(body)
	for i := 0; i+7 < len(body); i += 3 {
		body[i], body[i+7] = body[i+7], body[i]
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.Join(lines, "")), 0o666))
}

// smallDisk runs "smalldisk CODE SIZE COMMAND...": the command runs with a private disk of the
// given size at /mnt, which must be empty afterwards.
func smallDisk(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: smalldisk CODE SIZE COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	run := `mount -t tmpfs -o size="$1" tmpfs /mnt || exit 99; shift; "$@"; code=$?; [ -z "$(ls -A /mnt)" ] || exit 98; exit $code`
	checkExit(ts, ts.Exec("unshare", append([]string{"-m", "sh", "-c", run, "sh"}, args[1:]...)...), want)
}
