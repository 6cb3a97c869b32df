package main

import (
	"strconv"
	"strings"

	"driftreach/internal/margin"
	"driftreach/internal/result"
)

// plural counts a noun.
func plural(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return count(n) + " " + noun
}

// count formats n in groups of three digits separated by a space.
func count(n int) string { return groups(strconv.Itoa(n)) }

// acres formats grains as acres.
func acres(grains int64) string {
	return groups(result.InAcres(grains)) + " ac"
}

// kilometers formats a multiple of 1e-4 km with one decimal.
func kilometers(v int64) string { return groups(fixed(v, 1e4, 1)) + " km" }

func fixed(v int64, scale float64, places int) string {
	return strconv.FormatFloat(float64(v)/scale, 'f', places, 64)
}

// decimals formats x with the given number of decimals.
func decimals(x float64, places int) string { return groups(strconv.FormatFloat(x, 'f', places, 64)) }

// trim formats x without rounding errors of binary fractions.
func trim(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

func groups(digits string) string {
	whole, rest, _ := strings.Cut(digits, ".")
	sign := ""
	if strings.HasPrefix(whole, "-") {
		sign, whole = "-", whole[1:]
	}
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + " " + whole[i:]
	}
	if rest != "" {
		rest = "." + rest
	}
	return sign + whole + rest
}

// signed formats acres with + or -.
func signed(v int64) string {
	if v < 0 {
		return "- " + acres(-v)
	}
	return "+ " + acres(v)
}

// between formats a range of acres.
func between(r margin.Range) string {
	return strings.TrimSuffix(acres(r.P10.Grains()), " ac") + " to " + acres(r.P90.Grains())
}
