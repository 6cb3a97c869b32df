package main

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"

	"driftreach/internal/settings"
)

// shells are the shells for which completion scripts can be written.
var shells = []string{"bash", "zsh", "fish", "powershell"}

// completionCommand completes the commands that all returns.
func (p *program) completionCommand(all func() []*command) *command {
	return &command{
		name: "completion", line: "print completion of commands and flags for a shell", usage: strings.Join(shells, "|"),
		text: `Prints a script that makes a shell complete commands, flags and file names. Put it
where the shell reads it: for bash a line ` + "`source <(driftreach completion bash)`" + ` in
~/.bashrc, for zsh a file _driftreach in a folder of $fpath, for fish
~/.config/fish/completions/driftreach.fish, for PowerShell a line ` + "`driftreach completion powershell | Out-String | Invoke-Expression`" + ` in $PROFILE.`,
		example: "driftreach completion bash > driftreach.bash",
		flags:   pflag.NewFlagSet("completion", pflag.ContinueOnError),
		run: func(args []string) error {
			if len(args) != 1 {
				return &usageError{"completion takes one shell", "name one of " + strings.Join(shells, ", ")}
			}
			write, known := map[string]func(io.Writer, []completed){
				"bash": writeBash, "zsh": writeZsh, "fish": writeFish, "powershell": writePowerShell,
			}[args[0]]
			if !known {
				remedy := "name one of " + strings.Join(shells, ", ")
				if near := settings.Nearest(args[0], shells); near != "" {
					remedy = "did you mean " + near + "?"
				}
				return &usageError{"no completion for the shell " + args[0], remedy}
			}
			write(p.stdout, completedOf(all()))
			return nil
		},
	}
}

// completed is a command and what can follow it.
type completed struct {
	name, line string
	folders    bool     // its arguments are folders
	words      []string // or one of these words
	flags      []completedFlag
}

// all returns the words that may follow the command, including its flags.
func (c *completed) all() []string {
	words := slices.Clone(c.words)
	for _, f := range c.flags {
		words = append(words, "--"+f.name)
	}
	return words
}

// completedFlag is a flag and the kind of its value.
type completedFlag struct {
	name, line   string
	value        string // such as FILE, DIR or STAGE; blank for a switch
	words        []string
	repeated     bool
	file, folder bool
}

// completed returns every command with its flags.
func completedOf(commands []*command) []completed {
	var all []completed
	var names []string
	for _, c := range commands {
		names = append(names, c.name)
		one := completed{name: c.name, line: c.line, folders: strings.HasPrefix(c.usage, "DIR")}
		if c.name == "completion" {
			one.words = shells
		}
		c.flags.SortFlags = false
		c.flags.VisitAll(func(f *pflag.Flag) { one.flags = append(one.flags, completedFlagOf(f)) })
		one.flags = append(one.flags, completedFlag{name: "help", line: "explain the command"})
		all = append(all, one)
	}
	for i := range all {
		if all[i].name == "help" {
			all[i].words = names
		}
	}
	return all
}

func completedFlagOf(f *pflag.Flag) completedFlag {
	value, usage := pflag.UnquoteUsage(f)
	out := completedFlag{name: f.Name, value: value, repeated: f.Value.Type() == "stringArray"}
	out.line = usage
	if k := strings.IndexAny(usage, ",:;("); k > 0 {
		out.line = strings.TrimSpace(usage[:k])
	}
	out.file, out.folder = value == "FILE", value == "DIR"
	switch {
	case f.Name == "stage":
		out.words = stageWords
	case value == "KEY=VALUE":
		for _, setting := range settings.Table() {
			out.words = append(out.words, setting.Key+"=")
		}
	}
	return out
}

// oneQuoted writes text in single quotes for a POSIX shell.
func oneQuoted(text string) string { return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'" }

func writeBash(w io.Writer, all []completed) {
	fmt.Fprint(w, `# completion of driftreach for bash
_driftreach() {
    local current="${COMP_WORDS[COMP_CWORD]}" last="${COMP_WORDS[COMP_CWORD-1]}" words="" kind=""
    local IFS=$'\n'
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "`+lines(commandNames(all))+`" -- "$current"))
        return
    fi
    case "${COMP_WORDS[1]} $last" in
`)
	for _, c := range all {
		for _, f := range c.flags {
			switch {
			case f.file:
				fmt.Fprintf(w, "    '%s --%s') kind=file ;;\n", c.name, f.name)
			case f.folder:
				fmt.Fprintf(w, "    '%s --%s') kind=folder ;;\n", c.name, f.name)
			case f.words != nil:
				fmt.Fprintf(w, "    '%s --%s') kind=words words=\"%s\" ;;\n", c.name, f.name, lines(f.words))
			case f.value != "":
				fmt.Fprintf(w, "    '%s --%s') return ;;\n", c.name, f.name)
			}
		}
	}
	fmt.Fprint(w, "    esac\n    if [ -z \"$kind\" ]; then\n        case \"${COMP_WORDS[1]}\" in\n")
	for _, c := range all {
		kind := "kind=words"
		if c.folders {
			kind = "case \"$current\" in -*) kind=words ;; *) kind=folder ;; esac"
		}
		fmt.Fprintf(w, "        %s) %s; words=\"%s\" ;;\n", c.name, kind, lines(c.all()))
	}
	fmt.Fprint(w, `        esac
    fi
    case "$kind" in
    file) compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -f -- "$current")) ;;
    folder) compopt -o filenames 2>/dev/null; COMPREPLY=($(compgen -d -- "$current")) ;;
    words) COMPREPLY=($(compgen -W "$words" -- "$current")) ;;
    esac
    case "${COMPREPLY[0]}" in *=) compopt -o nospace 2>/dev/null ;; esac
}
complete -F _driftreach driftreach
`)
}

// lines joins words in the form in which bash splits them there.
func lines(words []string) string { return strings.Join(words, "\n") }

func commandNames(all []completed) []string {
	var names []string
	for _, c := range all {
		names = append(names, c.name)
	}
	return names
}

func writeZsh(w io.Writer, all []completed) {
	escape := strings.NewReplacer("[", `\[`, "]", `\]`, ":", `\:`).Replace
	fmt.Fprint(w, "#compdef driftreach\n# completion of driftreach for zsh\n_driftreach() {\n  local -a commands\n  commands=(\n")
	for _, c := range all {
		fmt.Fprintf(w, "    %s\n", oneQuoted(c.name+":"+c.line))
	}
	fmt.Fprint(w, "  )\n  if (( CURRENT == 2 )); then\n    _describe command commands\n    return\n  fi\n  local command=$words[2]\n  shift words\n  (( CURRENT-- ))\n  case $command in\n")
	for _, c := range all {
		fmt.Fprintf(w, "  %s)\n    _arguments", c.name)
		for _, f := range c.flags {
			star := ""
			if f.repeated {
				star = "*"
			}
			text := star + "--" + f.name + "[" + escape(f.line) + "]"
			if f.value != "" {
				text += ":" + escape(strings.ToLower(f.value)) + ":"
			}
			switch {
			case f.file:
				text += "_files"
			case f.folder:
				text += "_files -/"
			case f.words != nil:
				text += "(" + strings.Join(f.words, " ") + ")"
			}
			fmt.Fprintf(w, " \\\n      %s", oneQuoted(text))
		}
		switch {
		case c.folders:
			fmt.Fprint(w, " \\\n      '*:folder:_files -/'")
		case c.words != nil:
			fmt.Fprintf(w, " \\\n      '1:word:(%s)'", strings.Join(c.words, " "))
		}
		fmt.Fprint(w, "\n    ;;\n")
	}
	fmt.Fprint(w, "  esac\n}\nif [ \"$funcstack[1]\" = _driftreach ]; then\n  _driftreach \"$@\"\nelse\n  compdef _driftreach driftreach\nfi\n")
}

func writeFish(w io.Writer, all []completed) {
	quote := func(text string) string {
		return "'" + strings.NewReplacer(`\`, `\\`, "'", `\'`).Replace(text) + "'"
	}
	fmt.Fprint(w, "# completion of driftreach for fish\ncomplete -c driftreach -f\n")
	for _, c := range all {
		fmt.Fprintf(w, "complete -c driftreach -n __fish_use_subcommand -a %s -d %s\n", c.name, quote(c.line))
	}
	for _, c := range all {
		seen := quote("__fish_seen_subcommand_from " + c.name)
		for _, f := range c.flags {
			value := ""
			switch {
			case f.file:
				value = " -r -F"
			case f.folder:
				value = " -x -a '(__fish_complete_directories)'"
			case f.words != nil:
				value = " -x -a " + quote(strings.Join(f.words, " "))
			case f.value != "":
				value = " -x"
			}
			fmt.Fprintf(w, "complete -c driftreach -n %s -l %s%s -d %s\n", seen, f.name, value, quote(f.line))
		}
		switch {
		case c.folders:
			fmt.Fprintf(w, "complete -c driftreach -n %s -a '(__fish_complete_directories)'\n", seen)
		case c.words != nil:
			fmt.Fprintf(w, "complete -c driftreach -n %s -a %s\n", seen, quote(strings.Join(c.words, " ")))
		}
	}
}

func writePowerShell(w io.Writer, all []completed) {
	list := func(words []string) string {
		quoted := make([]string, len(words))
		for i, word := range words {
			quoted[i] = "'" + strings.ReplaceAll(word, "'", "''") + "'"
		}
		return "@(" + strings.Join(quoted, ", ") + ")"
	}
	fmt.Fprint(w, "# completion of driftreach for PowerShell\nRegister-ArgumentCompleter -Native -CommandName driftreach -ScriptBlock {\n"+
		"    param($word, $ast, $position)\n    $after = @{\n")
	for _, c := range all {
		for _, f := range c.flags {
			switch {
			case f.file || f.folder:
				fmt.Fprintf(w, "        '%s --%s' = $null\n", c.name, f.name)
			case f.words != nil:
				fmt.Fprintf(w, "        '%s --%s' = %s\n", c.name, f.name, list(f.words))
			case f.value != "":
				fmt.Fprintf(w, "        '%s --%s' = @()\n", c.name, f.name)
			}
		}
	}
	fmt.Fprint(w, "    }\n    $flags = @{\n")
	for _, c := range all {
		fmt.Fprintf(w, "        '%s' = %s\n", c.name, list(c.all()))
	}
	fmt.Fprintf(w, `    }
    $typed = @($ast.CommandElements | Where-Object { $_.Extent.EndOffset -lt $position } | ForEach-Object { $_.ToString() })
    if ($typed.Count -lt 2) { $words = %s }
    else {
        $key = $typed[1] + ' ' + $typed[-1]
        if ($after.ContainsKey($key)) { $words = $after[$key] } else { $words = $flags[$typed[1]] }
    }
    # without words of ours PowerShell completes the names of files
    $words | Where-Object { $_ -like "$word*" } | ForEach-Object { [System.Management.Automation.CompletionResult]::new($_) }
}
`, list(commandNames(all)))
}
