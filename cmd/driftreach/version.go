package main

import (
	"fmt"
	"regexp"
	"runtime"
	"runtime/debug"

	"github.com/spf13/pflag"
)

// release is the version of this source. CHANGELOG.md says what each version changed, with changes to
// numbers listed separately.
const release = "0.1.0"

// version is the version written in manifests: that of the build.
var version = versionOf(debug.ReadBuildInfo())

// tagged matches a version from a tag. Versions between tags contain a time and a commit.
var tagged = regexp.MustCompile(`^v\d+\.\d+\.\d+(-(alpha|beta|rc)[.\d]*)?$`)

// versionOf returns the version that a build records for its module if it was made from a tag.
// Otherwise it returns the release of the source, so that a batch has the same bytes however the
// program was built.
func versionOf(info *debug.BuildInfo, ok bool) string {
	if ok && tagged.MatchString(info.Main.Version) {
		return info.Main.Version[1:]
	}
	return release
}

// build describes what the program was built from: the commit, whether the source was changed since,
// and the compiler. It is blank if the build does not record it.
func build(info *debug.BuildInfo, ok bool) string {
	if !ok {
		return ""
	}
	commit, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			commit = "commit " + s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = ", source changed since"
		}
	}
	if commit == "" {
		commit = "commit unknown"
	}
	return fmt.Sprintf("%s%s, %s, %s/%s", commit, changed, info.GoVersion, runtime.GOOS, runtime.GOARCH)
}

func (p *program) versionCommand() *command {
	return &command{
		name: "version", line: "print the version", text: "Prints the version, and what the program was built from.",
		example: "driftreach version",
		flags:   pflag.NewFlagSet("version", pflag.ContinueOnError),
		run: func(args []string) error {
			if err := noArguments(args, onlyFlags); err != nil {
				return err
			}
			from := build(debug.ReadBuildInfo())
			if from != "" {
				from = " (" + from + ")"
			}
			_, err := fmt.Fprintln(p.stdout, "driftreach "+version+from)
			return err
		},
	}
}
