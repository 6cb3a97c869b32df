package layers

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"driftreach/internal/format"
)

// Fuzz reads any document that begins with the signature of a format, and checks the result with Hold.
// It begins with the layer in that format and the seeds.
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

// padding is longer than the part of a document that is looked at to find its format. The text after it
// reaches the scanners byte by byte.
var padding = strings.Repeat(" \n", 2100)

// FuzzText reads any text, at once and byte by byte, and checks the result with Hold.
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
