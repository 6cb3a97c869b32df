package learn

import (
	"fmt"
	"io"

	"driftreach/internal/estimate"
)

// WriteAdopt writes the settings that the data support, each with its basis, as a settings file
// that a batch can read. Settings the data do not support are written as comments, so that nobody
// mistakes them for a result.
func (a *Answer) WriteAdopt(w io.Writer) error {
	text := fmt.Sprintf("# What the history of %s supports. Copy what you adopt into the settings; nothing here is in use.\n", a.span())
	text += a.adoptDistance() + a.adoptPlan()
	_, err := io.WriteString(w, text)
	return err
}

func (a *Answer) adoptDistance() string {
	d := &a.Distance
	if d.Verdict != Supported {
		return fmt.Sprintf("\n# [drift] half_distance_by_order_km: %s (n = %d new stands); the assumed values stay.\n", d.Verdict, d.Counted)
	}
	best := d.Scale.Scale
	return fmt.Sprintf("\n[drift]\n# measured, this programme, n = %d new stands, %s; 95 %%: %s to %s\nhalf_distance_by_order_km = %s\n",
		d.Counted, a.span(), numbers(d.HalfDistances(best.Low)), numbers(d.HalfDistances(best.High)), numbers(d.HalfDistances(best.Value)))
}

// adoptPlan writes the plan settings that may be adopted: the efficacy of treatment, and growth.
func (a *Answer) adoptPlan() string {
	text := "\n[plan]\n"
	put := func(key string, enough bool, i estimate.Interval, n string) {
		if !enough || !i.Finite() && i.Low != 0 {
			text += fmt.Sprintf("# %s: too little data (%s); the assumed value stays\n", key, n)
			return
		}
		text += fmt.Sprintf("# measured, this programme, %s, %s; 95 %%: %s to %s\n%s = %s\n", n, a.span(), figure(i.Low, 3), figure(i.High, 3), key, figure(i.Value, 3))
	}
	work, growth := a.Treated.all(), GrowthOf{Yearly: estimate.None()}
	if len(a.Growth.Groups) > 0 {
		growth = a.Growth.Groups[0]
	}
	put("efficacy", work.Told() && work.Control.Value >= 0, work.Control, fmt.Sprintf("n = %d days of work on a stand, observed and not caused", work.Jobs))
	yearly := estimate.Interval{Value: growth.Yearly.Value - 1, Low: growth.Yearly.Low - 1, High: growth.Yearly.High - 1}
	put("growth", growth.Stands >= leastStands && yearly.Value >= 0, yearly, fmt.Sprintf("n = %d untreated stands", growth.Stands))
	return text + a.adoptLabour()
}

// adoptLabour writes the labour of the years after the first, for years with enough stands.
func (a *Answer) adoptLabour() string {
	var shares []float64
	for _, l := range a.Labour {
		if l.Stands < leastStands || l.Share.Value > 1 {
			break
		}
		shares = append(shares, l.Share.Value)
	}
	if len(shares) == 0 {
		return fmt.Sprintf("# follow_up_labour: too little data; it takes %d stands first treated two years before the last look, with hours of work; the assumed values stay\n", leastStands)
	}
	return fmt.Sprintf("# measured, this programme, n = %d stands, %s\nfollow_up_labour = %s\n", a.Labour[len(shares)-1].Stands, a.span(), numbers(shares))
}
