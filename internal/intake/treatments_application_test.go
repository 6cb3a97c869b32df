package intake

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"driftreach/internal/column"
	"driftreach/internal/testkit"
	"driftreach/internal/treatment"
)

// What was used comes through as it was entered; amounts keep their units, and wind,
// temperature and hours are ours. Worked by hand: 50 °F is 10 °C, 10 mph 4.4704 m/s,
// 90 minutes 1.5 hours, a quarter past eight 0.34375 of a day, and 0.99999 rounds to midnight.
func TestApplicationIsReadAsEntered(t *testing.T) {
	const header = "date,stand_id,Product,reg,used,unit,who,License,from,to,Wind (mph),Temp F,time_min,Photo_Numbers\n"
	m := column.Mapping{
		Columns: map[string]column.Names{
			"registration_number": {"reg"}, "amount": {"used"}, "amount_unit": {"unit"}, "applicator": {"who"}, "start_time": {"from"}, "end_time": {"to"},
			"wind_mps": {"Wind (mph)"}, "temperature_c": {"Temp F"}, "hours": {"time_min"},
		},
		Units: map[string]string{"amount": "Gal"},
	}
	for row, want := range map[string]string{
		"A 41,524-1,2.5,qt,N. N.,L-7,0.34375,11:00 am,10,50,90, 0412-0418 ": "A 41|524-1|2.5 qt|N. N.|L-7|08:15|11:00 am|4.470|10.0|1.50|0412-0418|",
		"A 41,,2.5,,,,,,,,,":                        "A 41||2.5 Gal|||||||||",
		"A 41,,12 fl Oz,,,,,,,,,":                   "A 41||12 fl Oz|||||||||",
		"A 41,,\"1,250.5 L\",mL,,,,,,,,":            "A 41||1250.5 mL|||||||||",
		"A 41,,~3,,,,,,5 knots,21 C,2 h,":           "A 41||3 Gal|||||2.572|21.0|2.00||number-approximate",
		"A 41,,,,,,0.99999,1.0,,,,":                 "A 41|||||00:00|1|||||",
		"n/a,,,,,,,,calm,,,":                        "|||||||||||number-unreadable",
		"A 41,,a few,,,,,,,,,":                      "A 41|||||||||||number-unreadable",
		"A 41,,nan,,,,,,,,,":                        "A 41|||||||||||number-not-finite",
		"=cmd(),+1,1 1/2,gal,@x,-L,8:00,9:00,0,,0,": "=cmd()|+1|1.5 gal|@x|-L|8:00|9:00|0.000||0.00||",
	} {
		s := testkit.Source("t.csv", strings.NewReader(header+"2026-07-05,s1,"+row+"\n"))
		o := DefaultOptions()
		o.Mapping = m
		got, findings, err := ReadTreatments(s, o)
		if err != nil || len(got.Actions) != 1 {
			t.Fatalf("%s: %v %v", row, got.Actions, err)
		}
		var codes []string
		for _, f := range findings {
			if f.Rule.Code == "unit-by-name" { // of the three columns with a unit
				continue
			}
			codes = append(codes, f.Rule.Code)
		}
		if said := applicationText(got.Actions[0]) + strings.Join(codes, " "); said != want {
			t.Errorf("%s: %s, want %s", row, said, want)
		}
	}
}

func applicationText(a treatment.Treatment) string {
	number := func(x float64, form string) string {
		if math.IsNaN(x) {
			return ""
		}
		return fmt.Sprintf(form, x)
	}
	amount := strings.TrimSpace(number(a.Amount, "%g") + " " + a.AmountUnit)
	return strings.Join([]string{
		a.Product, a.Registration, amount, a.Applicator, a.Licence, a.Start, a.End,
		number(a.Wind, "%.3f"), number(a.Temperature, "%.1f"), number(a.Hours, "%.2f"), a.Photos, "",
	}, "|")
}

// A crew's spray log is proposed column by column, with the units of its header.
func TestApplicationIsProposed(t *testing.T) {
	text := "Date Treated,Stand,Acres Treated,Product Name,Reg No,Gallons Used,Applied By,License No,Time In,Time Out,Wind (mph),Temp (F),Crew Hours\n" +
		"2026-07-05,s1,0.5,A 41,524-1,2.5,N. N.,L-7,08:15,11:00,4,75,16\n2026-07-06,s2,0.4,A 41,524-1,2,N. N.,L-7,08:00,10:00,5,71,8\n"
	_, _, err := ReadTreatments(testkit.Source("log.csv", strings.NewReader(text)), DefaultOptions())
	if err == nil {
		t.Fatal("a log whose stands have no column of ours is read without a mapping")
	}
	o := DefaultOptions()
	o.Trial = true
	got, _, err := ReadTreatments(testkit.Source("log.csv", strings.NewReader(text)), o)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, p := range got.Proposals {
		all = append(all, p.Field+"="+p.Column+" "+p.Unit)
	}
	want := "date=Date Treated ; stand_id=Stand ; treated_acres=Acres Treated ; product=Product Name ; registration_number=Reg No ; amount=Gallons Used gallons; " +
		"applicator=Applied By ; licence=License No ; start_time=Time In ; end_time=Time Out ; wind_mps=Wind (mph) mph; temperature_c=Temp (F) f; hours=Crew Hours "
	if said := strings.Join(all, "; "); said != want {
		t.Errorf("%s, want\n%s", said, want)
	}
}
