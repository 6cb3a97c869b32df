package settings

import (
	"fmt"
	"strings"

	"github.com/pelletier/go-toml/v2"
)

func unknownKey(where, key string, known []string) *Error {
	near := Nearest(key, known)
	remedy := "`driftreach settings` lists every key"
	if near != "" {
		remedy = fmt.Sprintf("did you mean %s? `driftreach settings` lists every key", near)
	}
	return &Error{Where: where, Problem: "unknown setting " + key, Remedy: remedy}
}

func line(name string, e *toml.DecodeError) string {
	if strings.HasPrefix(name, "--set") {
		return name
	}
	row, _ := e.Position()
	return fmt.Sprintf("%s line %d", name, row)
}

func keys() []string {
	var all []string
	for _, setting := range Table() {
		all = append(all, setting.Key)
	}
	for _, role := range roleNames() {
		all = append(all, "columns."+role, "units."+role)
	}
	for _, key := range inputKeys() {
		all = append(all, "inputs."+key.name)
	}
	return append(all, "plan.factors", "values", "files")
}
