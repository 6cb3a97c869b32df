package work

import (
	"time"

	"driftreach/internal/check"
)

type checker struct {
	check.Checker[Work]
	begin time.Time
}
