package layers

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"driftreach/internal/format"
)

// Fuzz reads anything that begins with the mark of a format, the layer in it and the
// seeds to begin with, and holds what comes out (Hold).
func Fuzz(f *testing.F, name, mark string, seeds ...[]byte) {
	f.Helper()
	for _, form := range Forms(f) {
		if form.Format == name {
			f.Add(form.Bytes)
		}
	}
	for _, seed := range seeds {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		Hold(t, Form{File: "f", Bytes: append([]byte(mark), b[min(len(mark), len(b)):]...)})
	})
}

// padding is more than what is looked at to tell a format, so that the text after it
// reaches the scanners byte by byte.
var padding = strings.Repeat(" \n", 2100)

// FuzzText reads any text, at once and byte by byte, and holds what comes out.
func FuzzText(f *testing.F, name string, seeds ...[]byte) {
	f.Helper()
	f.Add(FormOf(f, name).Bytes)
	for _, seed := range seeds {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		form := Form{File: "f", Bytes: b}
		Hold(t, form)
		form.Bytes = append([]byte(padding), b...)
		whole, err := Read(form, Asked{})
		pieces, errAgain := Read(form, Asked{Stream: true})
		if diff := cmp.Diff(whole, pieces, cmpopts.EquateNaNs()); diff != "" {
			t.Fatalf("%q differs in pieces:\n%s", b, diff)
		}
		var one, other *format.UnusableError
		if errors.As(err, &one) != errors.As(errAgain, &other) || one != nil && *one != *other {
			t.Fatalf("%q: %v whole, %v in pieces", b, err, errAgain)
		}
	})
}
