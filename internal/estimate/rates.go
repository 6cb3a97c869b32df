package estimate

import (
	"math"
	"slices"
)

// Rates is a Poisson model of counts with several causes: the expected count of row i is the sum
// over causes of amount x Causes[cause][i], with amounts of 0 or more. Each cause's column is
// scaled to sum to 1. So an amount is the total expected count of its cause, and at the maximum of
// the likelihood the amounts sum to the observed count.
type Rates struct {
	columns [][]float64 // by cause, in the rows with a count
	counts  []float64   // of those rows
}

// value returns the log likelihood of some amounts, without the constant term.
func (r *Rates) value(amounts []float64) float64 {
	sum := 0.0
	for i, y := range r.counts {
		sum += y * math.Log(r.expected(amounts, i))
	}
	for _, a := range amounts {
		sum -= a
	}
	return sum
}

func (r *Rates) expected(amounts []float64, row int) float64 {
	e := 0.0
	for k, a := range amounts {
		e += a * r.columns[k][row]
	}
	return e
}

// Fit returns the maximum likelihood amounts, and the log likelihood. The likelihood is concave, so
// there is one maximum. Newton steps on the amounts not held at 0 (D. P. Bertsekas, SIAM Journal on
// Control and Optimization 20 (1982), 221-246), halved until the likelihood rises, to 1e-10 of it.
// Each of about ten steps costs the number of rows with a count times the square of the number of
// causes. Minus infinity where no cause explains a count.
func (r *Rates) Fit() (amounts []float64, log float64) {
	n := 0.0
	for _, y := range r.counts {
		n += y
	}
	amounts = make([]float64, len(r.columns))
	if n == 0 {
		return amounts, 0
	}
	for k := range amounts {
		amounts[k] = n / float64(len(amounts))
	}
	log = r.value(amounts)
	for range 200 {
		next, better := r.step(amounts, log)
		done := better-log <= 1e-12*(1+math.Abs(log))
		amounts, log = next, better
		if done {
			break
		}
	}
	return amounts, log
}

// held is the amount, in counts, below which a cause that should have less has nothing. Our choice:
// far below what a reader sees.
const held = 1e-6

// alike is the share added to the second derivatives where causes are alike, so that there is one
// step. Far above rounding, and far below what a step depends on.
const alike = 1e-9

// step returns amounts at least as likely as the given ones.
func (r *Rates) step(amounts []float64, log float64) ([]float64, float64) {
	gradient, hessian := r.slopes(amounts)
	next := make([]float64, len(amounts))
	for _, way := range []func(a, g []float64, h [][]float64) []float64{newton, untilOneIsNone} {
		direction := way(amounts, gradient, hessian)
		for size := 1.0; direction != nil && size > 1e-12; size /= 2 {
			for k := range next {
				next[k] = max(0, amounts[k]+size*direction[k])
			}
			if v := r.value(next); v > log {
				return next, v
			}
		}
	}
	return amounts, log
}

// newton returns the step to the maximum of the quadratic with these slopes. Causes at 0 that would
// fall below it stay there. nil where causes are alike.
func newton(amounts, gradient []float64, hessian [][]float64) []float64 {
	direction := make([]float64, len(amounts))
	var free []int
	for k := range amounts {
		if amounts[k] > held || gradient[k] > 0 {
			free = append(free, k)
		} else {
			direction[k] = -amounts[k]
		}
	}
	for {
		solved := solve(hessian, gradient, free)
		if solved == nil {
			return nil
		}
		below := slices.IndexFunc(free, func(k int) bool { return amounts[k] <= held && solved[slices.Index(free, k)] < 0 })
		if below < 0 {
			for i, k := range free {
				direction[k] = solved[i]
			}
			return direction
		}
		free = slices.Delete(free, below, below+1)
	}
}

// untilOneIsNone returns a step for causes that are alike, or nearly: along what tells them apart,
// until one of them has nothing.
func untilOneIsNone(amounts, gradient []float64, hessian [][]float64) []float64 {
	for k := range hessian {
		hessian[k][k] += alike*hessian[k][k] + 1e-300 // a cause without rows too
	}
	direction, size := newton(amounts, gradient, hessian), 1.0
	for k, v := range direction {
		if v < 0 && amounts[k] > held {
			size = min(size, amounts[k]/-v)
		}
	}
	for k := range direction {
		direction[k] *= size
	}
	return direction
}

// slopes returns the gradient of the log likelihood, and the negative matrix of its second
// derivatives.
func (r *Rates) slopes(amounts []float64) (gradient []float64, curve [][]float64) {
	gradient = make([]float64, len(amounts))
	curve = make([][]float64, len(amounts))
	for k := range amounts {
		gradient[k], curve[k] = -1, make([]float64, len(amounts))
	}
	for i, y := range r.counts {
		e := r.expected(amounts, i)
		for k := range amounts {
			ck := r.columns[k][i] / e
			gradient[k] += y * ck
			for l := range k + 1 {
				curve[k][l] += y * ck * r.columns[l][i] / e
			}
		}
	}
	for k := range curve {
		for l := range k {
			curve[l][k] = curve[k][l]
		}
	}
	return gradient, curve
}

// solve solves a positive definite system, restricted to the free rows, by elimination; nil where
// it is nearly singular.
func solve(a [][]float64, b []float64, free []int) []float64 {
	n := len(free)
	m := make([][]float64, n)
	for i, k := range free {
		m[i] = make([]float64, n+1)
		for j, l := range free {
			m[i][j] = a[k][l]
		}
		m[i][n] = b[k]
	}
	for i := range n {
		if !(m[i][i] > 1e-12*(a[free[i]][free[i]]+1e-300)) {
			return nil
		}
		for j := i + 1; j < n; j++ {
			by := m[j][i] / m[i][i]
			for k := i; k <= n; k++ {
				m[j][k] -= by * m[i][k]
			}
		}
	}
	x := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		x[i] = m[i][n]
		for k := i + 1; k < n; k++ {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	return x
}
