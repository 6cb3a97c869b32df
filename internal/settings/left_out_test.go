package settings

import "testing"

// TestWrittenOrLeftOut: depends on the setting's word and on the number of stands, just below and
// above the 5000 from which outputs are written only on request; only outputs left out by auto are
// reported.
func TestWrittenOrLeftOut(t *testing.T) {
	for _, one := range []struct {
		word             string
		stands           int
		written, leftOut bool
	}{
		{auto, 0, true, false}, {auto, manyStands, true, false}, {auto, manyStands + 1, false, true},
		{always, 0, true, false}, {always, manyStands + 1, true, false}, {never, 1, false, false}, {never, manyStands + 1, false, false},
	} {
		next, water := SurveyNextSettings{Write: one.word}, WaterWorkSettings{Write: one.word}
		if next.Written(one.stands) != one.written || water.Written(one.stands) != one.written {
			t.Errorf("%s, %d stands: written %v and %v", one.word, one.stands, next.Written(one.stands), water.Written(one.stands))
		}
		if next.LeftOut(one.stands) != one.leftOut || water.LeftOut(one.stands) != one.leftOut {
			t.Errorf("%s, %d stands: left out %v and %v", one.word, one.stands, next.LeftOut(one.stands), water.LeftOut(one.stands))
		}
	}
}
