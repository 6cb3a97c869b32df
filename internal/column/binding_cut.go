package column

import "strings"

// uncut returns the field whose name, cut to ten letters, is the column's name. A number at the end is
// ignored: programs add one to keep cut names apart ("occurren_1"). A name that fits several fields is
// given to none and recorded as a doubt.
func (b *binding) uncut(name string) []claim {
	if len(name) != b.cut {
		return nil
	}
	stem := name
	if k := strings.LastIndexByte(name, '_'); k > 0 && k < len(name)-1 && strings.Trim(name[k+1:], "0123456789") == "" {
		stem = name[:k]
	}
	var fields []string
	found := claim{rank: 2 * ours, scale: asItIs}
	for i, f := range b.fields {
		if b.isMapped(f.Name) || len(f.Name) <= b.cut || !strings.EqualFold(f.Name[:len(stem)], stem) {
			continue
		}
		fields = append(fields, f.Name)
		found.field = i
		found = b.priced(found)
	}
	if len(fields) > 1 {
		b.doubts = append(b.doubts, doubt{name, fields})
	}
	if len(fields) != 1 {
		return nil
	}
	return []claim{found}
}
