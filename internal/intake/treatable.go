package intake

import (
	"strings"

	"driftreach/internal/cell"
	"driftreach/internal/check"
	"driftreach/internal/column"
	"driftreach/internal/format"
	"driftreach/internal/treatable"
	"driftreach/internal/treatment"
)

// Treatable is a file of rules for what may be treated and when, read but not yet checked as a
// batch.
type Treatable struct {
	File
	Rules []treatable.Rule
}

// RoleTreatable is the name of the input of what may be treated.
const RoleTreatable = "treatable"

func treatableRole() Role {
	return Role{
		Name: RoleTreatable, Is: "what may be treated and when", Many: true, Passing: "treatable_id",
		Help:  "`FILE` of what may be treated and when, repeatable, by stand or parcel: permission, access, months, closed seasons; the plan follows it",
		Rules: treatable.Rules, fields: treatableFields,
		records: kind[Treatable, treatable.Rule]{
			open: ReadTreatable,
			of:   func(f *Treatable) (File, []treatable.Rule) { return f.File, f.Rules },
			check: func(all []treatable.Rule, _ Against) ([]treatable.Rule, []check.Finding) {
				return treatable.Check(all, treatable.Options{})
			},
			file:  func(r *treatable.Rule) string { return r.File },
			value: treatableValue,
		},
	}
}

// treatableValue returns the value of a row's field, as it was understood.
func treatableValue(r *treatable.Rule, field string) string {
	switch field {
	case "permission_expires":
		return dayText(r.Expires)
	case "cost_factor":
		return numberText(r.Factor)
	}
	return map[string]string{
		"stand_id": r.StandID, "parcel": r.Parcel, "permission": string(r.Permission), "access": r.Access, "owner": r.Owner, "gate": r.Gate, "method": r.Method, "months": r.Months,
		"closed_from": r.ClosedFrom, "closed_to": r.ClosedTo, "closed_for": r.ClosedFor,
	}[field]
}

// ReadTreatable returns the rows of a file of any format about what may be treated, in the
// order of the file, and the findings. Geometries of the rows are ignored: ids and parcels say
// what a row is about. The error is an *UnusableError when the file cannot be used. Cost is
// linear.
func ReadTreatable(s format.Source, o Options) (Treatable, []check.Finding, error) {
	r := &treatableReader{featureReader: newReader(treatableFields, treatableID, recognisedTreatable, o)}
	r.permissions, r.methods = o.Mapping.Words("permission"), o.Mapping.Words("method")
	if err := r.readFile(s, r.take); err != nil {
		return Treatable{}, nil, err
	}
	if (r.Tabular() || r.features > 0) && !r.columns.Has(treatableStand) && !r.columns.Has(treatableParcel) {
		err := r.stop("header", "there is no column for the stand and none for the parcel among: "+format.Shorten(strings.Join(r.Schema.Names, ", ")),
			"name the columns stand_id or parcel, or map them under [columns.treatable]")
		if err != nil {
			return Treatable{}, nil, err
		}
	}
	return Treatable{File: r.file, Rules: r.found}, r.Log.Findings(), nil
}

// The fields of what may be treated, by their index in treatableFields.
const (
	treatableID = iota
	treatableStand
	treatableParcel
	treatablePermission
	treatableExpires
	treatableAccess
	treatableMethod
	treatableMonths
	treatableFrom
	treatableTo
	treatableFor
	treatableFactor
	treatableOwner
	treatableGate
)

// treatableFields are the columns of what may be treated. Only findings use the id. Case does
// not matter.
var treatableFields = []column.Field{
	treatableID:     {Name: "treatable_id"},
	treatableStand:  {Name: "stand_id"},
	treatableParcel: pointFields[pointParcel],
	treatablePermission: {Name: "permission", Words: column.Theirs{
		"given": {"yes", "granted", "ok", "signed", "y", "permitted", "allowed"}, "asked": {"pending", "requested", "open", "applied", "waiting"},
		"refused": {"no", "denied", "withdrawn", "n", "declined"},
	}},
	treatableExpires: {Name: "permission_expires", In: cell.Day},
	treatableAccess:  {Name: "access"},
	treatableMethod:  treatmentFields[treatmentMethod],
	treatableMonths:  {Name: "months"},
	treatableFrom:    {Name: "closed_from"},
	treatableTo:      {Name: "closed_to"},
	treatableFor:     {Name: "closed_for"},
	treatableFactor:  {Name: "cost_factor", In: cell.Share},
	treatableOwner:   {Name: "owner"},
	treatableGate:    {Name: "gate"},
}

// recognisedTreatable are names of columns in lists of owners and permits [C].
var recognisedTreatable = []column.Recognised{
	column.Elsewhere("stand_id", column.Anything, "stand", "standno", "patch", "patchid", "site", "siteid"),
	column.Elsewhere("permission", column.FewWords, "permit", "consent", "ownerpermission", "status", "granted", "entry", "rightofentry", "agreement"),
	column.Elsewhere("permission_expires", column.Dates, "expires", "expiry", "expirydate", "validuntil", "permitexpires", "until", "expiration", "expirationdate"),
	column.Elsewhere("access", column.FewWords, "accessby", "how", "route", "accesstype"),
	column.Elsewhere("months", column.Anything, "month", "window", "treatmentmonths", "workmonths"),
	column.Elsewhere("closed_from", column.Anything, "closedstart", "seasonstart", "closurestart", "nestingfrom"),
	column.Elsewhere("closed_to", column.Anything, "closedend", "seasonend", "closureend", "nestingto"),
	column.Elsewhere("closed_for", column.FewWords, "closure", "restriction", "season", "protects"),
	column.Elsewhere("owner", column.Anything, "ownername", "landowner", "holder", "proprietor"),
	column.Elsewhere("gate", column.Anything, "gatecode", "entrance", "lock"),
	column.Elsewhere("cost_factor", column.Numbers, "factor", "costfactor", "difficulty", "multiplier"),
}

// treatableReader turns features into rows.
type treatableReader struct {
	featureReader
	found                []treatable.Rule
	permissions, methods map[string]string
}

// take turns one feature into a row.
func (r *treatableReader) take(f *format.Feature) error {
	if f.Wrong != "" {
		r.rejectFeature(f, nil)
		return nil
	}
	text := func(field int) string { return strings.TrimSpace(r.text(f, field)) }
	rule := treatable.Rule{
		File: r.Name, Row: f.Row, StandID: text(treatableStand), Parcel: text(treatableParcel), Access: text(treatableAccess),
		Months: text(treatableMonths), ClosedFrom: text(treatableFrom), ClosedTo: text(treatableTo), ClosedFor: text(treatableFor),
		Owner: text(treatableOwner), Gate: text(treatableGate),
		Factor: r.number(f, treatableFactor),
	}
	_, rule.Expires = r.days(f, treatableExpires)
	if text := r.columns.Cell(f, treatablePermission); !cell.IsBlank(text) {
		word := strings.ToLower(translate(r.permissions, r.store.keep(text)))
		rule.Permission = treatable.Permission(strings.TrimSpace(word))
		meaning := ""
		for _, known := range treatable.Permissions() {
			if rule.Permission == known {
				meaning = string(known)
			}
		}
		r.columns.Count(treatablePermission, text, meaning)
	}
	rule.Method = r.word(f, treatableMethod, r.methods, treatment.ParseMethod)
	r.file.Read++
	r.found = append(grown(&r.featureReader, r.found), rule)
	return nil
}
