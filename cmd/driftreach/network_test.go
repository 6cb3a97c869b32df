package main

import (
	"debug/elf"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
)

// The program, built as in the README, needs no library of the system. Traced with strace through a
// batch that reads and writes every kind of file, it opens no socket.
func TestProgramIsStaticAndOpensNoSocket(t *testing.T) {
	if testing.Short() {
		t.Skip("builds the program; left out of short tests")
	}
	if runtime.GOOS != "linux" {
		t.Skip("strace is of Linux")
	}
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("strace is not installed")
	}
	here, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	dir := smallBatch(t)
	program := filepath.Join(dir, "driftreach")
	built(t, here, program, "driftreach/cmd/driftreach")
	if needs := dynamic(t, program); needs {
		t.Error("the program needs a loader of the system")
	}
	if calls := networkCalls(t, strace, dir, program, "batch", "--points", "points.csv", "--streams", "2026Q3/driftreach.gpkg:network",
		"--units", "units.geojson", "--previous", "2026Q2", "--quarter", "2026Q3", "--out", "traced", "--gpkg", "--kml", "--network"); len(calls) > 0 {
		t.Errorf("asks for the network: %q", calls)
	}

	// The trace does find a program that opens one.
	source := filepath.Join(dir, "opens.go")
	if err := os.WriteFile(source, []byte(`package main

import "net"

func main() { net.Dial("udp", "127.0.0.1:9") }
`), 0o600); err != nil {
		t.Fatal(err)
	}
	opens := filepath.Join(dir, "opens")
	built(t, dir, opens, source)
	if calls := networkCalls(t, strace, dir, opens); !slices.Contains(calls, "socket") || !slices.Contains(calls, "connect") {
		t.Errorf("of a program that opens a socket the trace tells %q", calls)
	}
}

// The program links no network client. pflag, for flags with addresses, and google/uuid, used by
// SQLite, link package net itself.
func TestProgramLinksNoClientOfTheNetwork(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "driftreach/cmd/driftreach").Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := strings.Fields(string(list))
	if !slices.Contains(linked, "driftreach/internal/batch") {
		t.Fatalf("the list of packages is not the program's: %q", linked)
	}
	for _, bad := range []string{"net/http", "net/rpc", "net/smtp", "crypto/tls"} {
		if slices.Contains(linked, bad) {
			t.Errorf("the program links %s", bad)
		}
	}
}

// built builds a program without cgo, as the README says.
func built(t *testing.T, dir, program, source string) {
	t.Helper()
	build := exec.Command("go", "build", "-trimpath", "-ldflags", "-s -w", "-o", program, source)
	build.Dir = dir
	build.Env = append(os.Environ(), "CGO_ENABLED=0")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("build: %v\n%s", err, out)
	}
}

// networkCalls runs a program under strace and returns the network system calls of all its threads.
// Log lines about detached threads, signals and exits are not calls.
func networkCalls(t *testing.T, strace, dir string, command ...string) []string {
	t.Helper()
	log := filepath.Join(t.TempDir(), "trace")
	run := exec.Command(strace, append([]string{"-f", "-qq", "-e", "trace=network", "-o", log}, command...)...)
	run.Dir = dir
	if out, err := run.CombinedOutput(); err != nil {
		if strings.Contains(string(out), "ptrace") || strings.Contains(string(out), "not permitted") {
			t.Skipf("tracing is not allowed here: %s", out)
		}
		t.Fatalf("%v\n%s", err, out)
	}
	text, err := os.ReadFile(log)
	if err != nil {
		t.Fatal(err)
	}
	return calledIn(string(text))
}

// callLine is a line of strace: a process, then a call or the rest of one.
var callLine = regexp.MustCompile(`(?m)^\s*\d+\s+(?:<\.\.\. )?([a-z][a-z0-9_]*)(?:\(| resumed>)`)

// calledIn returns the names of the calls in a trace.
func calledIn(trace string) []string {
	var calls []string
	for _, match := range callLine.FindAllStringSubmatch(trace, -1) {
		calls = append(calls, match[1])
	}
	return calls
}

// The lines are as strace 6.1 writes them.
func TestCalledIn(t *testing.T) {
	got := calledIn(`12317 --- SIGURG {si_signo=SIGURG, si_code=SI_TKILL, si_pid=12317, si_uid=0} ---
12318 ???( <detached ...>
12319 +++ exited with 0 +++
12320 socket(AF_INET, SOCK_DGRAM|SOCK_CLOEXEC, IPPROTO_IP <unfinished ...>
12321 --- SIGURG (Urgent I/O condition) ---
12320 <... socket resumed>) = 3
12320 connect(3, {sa_family=AF_INET, sin_port=htons(9), sin_addr=inet_addr("127.0.0.1")}, 16) = 0
`)
	if want := []string{"socket", "socket", "connect"}; !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// dynamic says whether a program needs a loader (ELF, program header PT_INTERP).
func dynamic(t *testing.T, program string) bool {
	t.Helper()
	file, err := elf.Open(program)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	return slices.ContainsFunc(file.Progs, func(p *elf.Prog) bool { return p.Type == elf.PT_INTERP })
}
