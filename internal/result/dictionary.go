package result

// DictionaryTable returns the data dictionary itself: one row for each field of every table of run and
// of this one.
func DictionaryTable(run *Run) Table { return Dictionary(Tables(run)) }

// entry is a field and the table it is a column of.
type entry struct {
	table *Table
	field *Field
}

// Dictionary returns the fields of tables as a table, followed by its own fields.
func Dictionary(tables []Table) Table {
	own := Table{Name: "fields", Title: "One row for each field of every file, as defined here"}
	var rows []entry
	own.Fields = dictionaryFields(&rows)
	for _, t := range append(tables, own) {
		for k := range t.Fields {
			rows = append(rows, entry{&t, &t.Fields[k]})
		}
	}
	own.Rows = len(rows)
	return own
}

func dictionaryFields(rows *[]entry) []Field {
	of := func(i int) *Field { return (*rows)[i].field }
	return []Field{
		{"table", "Table", NoUnit, Text, "Name of the files that have the field, without the ending: a table, a layer or both.", "",
			func(_ *Run, i int) Value { return text((*rows)[i].table.Name) }},
		{"field", "Field", NoUnit, Text, "Name of the column or property.", "",
			func(_ *Run, i int) Value { return text(of(i).Name) }},
		{"title", "Title", NoUnit, Text, "The same for people.", "",
			func(_ *Run, i int) Value { return text(of(i).Label) }},
		{"unit", "Unit", NoUnit, Text, "Unit of the numbers; blank where they have none.", "",
			func(_ *Run, i int) Value { return text(string(of(i).Unit)) }},
		{"type", "Type", NoUnit, Text, "Text, number, whole number, true or false, date or list.", "",
			func(_ *Run, i int) Value { return text(of(i).Kind.String()) }},
		{"meaning", "Meaning", NoUnit, Text, "What it says, and when it is blank.", "",
			func(_ *Run, i int) Value { return text(of(i).Definition) }},
		{"origin", "Origin", NoUnit, Text, "Where the rule or figure comes from: [P] published, [C] common practice, [A] assumed; blank for what was read.", "",
			func(_ *Run, i int) Value { return text(of(i).Origin) }},
	}
}
