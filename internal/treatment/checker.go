package treatment

import (
	"time"

	"driftreach/internal/check"
)

type checker struct {
	check.Checker[Treatment]
	end time.Time // of the quarter
}
