package settings

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// whole says whether a setting takes whole numbers alone.
func whole(at any) bool {
	switch at.(type) {
	case *int, *[]int, *int64, *uint64:
		return true
	}
	return false
}

// TestEverySettingAtItsBounds: of every setting the values at both ends of its range are taken, and no
// value beyond: a message names the key, the value and the range. What is set is that setting alone.
func TestEverySettingAtItsBounds(t *testing.T) {
	held := 0
	for _, setting := range Table() {
		s := Default()
		b, at := setting.bounds, setting.at(&s)
		if b.words != nil || b.day || b.sentence {
			continue
		}
		held++
		step := func(x, to float64) float64 {
			if whole(at) {
				return x + math.Copysign(1, to-x)
			}
			return math.Nextafter(x, to)
		}
		text := func(x float64) string {
			one := strconv.FormatFloat(x, 'g', -1, 64)
			if whole(at) {
				one = strconv.FormatFloat(x, 'f', -1, 64)
			}
			if b.to == 0 {
				return one
			}
			return "[" + strings.Join(slices.Repeat([]string{one}, max(1, b.from)), ", ") + "]"
		}
		set := func(x float64) (Settings, error) { return Default().Set(setting.Key + "=" + text(x)) }
		for _, c := range []struct {
			x     float64
			taken bool
		}{
			{b.low, !b.openLow}, {step(b.low, math.Inf(1)), true}, {b.high, true}, {step(b.low, math.Inf(-1)), false}, {step(b.high, math.Inf(1)), false}, {(b.low + b.high) / 2, !whole(at) || math.Mod(b.low+b.high, 2) == 0},
		} {
			if b.mustAscend && c.taken { // equal values do not rise
				continue
			}
			got, err := set(c.x)
			var wrong *Error
			switch {
			case c.taken && err != nil:
				t.Errorf("%s: %s is refused: %v", setting.Key, text(c.x), err)
			case !c.taken && err == nil:
				t.Errorf("%s: %s is taken, of %s", setting.Key, text(c.x), setting.Range())
			case !c.taken:
				if !errors.As(err, &wrong) || !strings.Contains(err.Error(), setting.Key) || !strings.Contains(wrong.Hint(), setting.Range()) {
					t.Errorf("%s: %s: %v, %q", setting.Key, text(c.x), err, wrong.Hint())
				}
			default:
				before := Default()
				for _, other := range Table() {
					if changed := other.Value(&got) != other.Value(&before); changed && other.Key != setting.Key {
						t.Errorf("%s=%s changes %s", setting.Key, text(c.x), other.Key)
					}
				}
				first, _, _ := strings.Cut(strings.Trim(setting.Value(&got), "[]"), ", ")
				if read, err := strconv.ParseFloat(first, 64); err != nil || read != c.x {
					t.Errorf("%s=%s is %s", setting.Key, text(c.x), setting.Value(&got))
				}
			}
		}
		holdNumberOfValues(t, setting)
	}
	if held < 60 {
		t.Errorf("%d settings have a range", held)
	}
}

// holdNumberOfValues checks that a list takes as many values as its range says, and no other number.
func holdNumberOfValues(t *testing.T, setting Setting) {
	b := setting.bounds
	if b.to == 0 || b.mustAscend {
		return
	}
	one := strconv.FormatFloat(b.high, 'f', -1, 64)
	for n, taken := range map[int]bool{b.from: true, b.to: true, b.to + 1: false, b.from - 1: false} {
		if n < 0 {
			continue
		}
		if _, err := Default().Set(setting.Key + "=[" + strings.Join(slices.Repeat([]string{one}, n), ",") + "]"); (err == nil) != taken {
			t.Errorf("%s: %d values: %v", setting.Key, n, err)
		}
	}
}

// TestRangesInWords: how a range is said; by hand.
func TestRangesInWords(t *testing.T) {
	for want, b := range map[string]bounds{
		"0 to 1": within(0, 1), "above 0, up to 100": above(0, 100), "base or flood": oneOf("base", "flood"), "a or b or c": oneOf("a", "b", "c"),
	} {
		if got := b.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
