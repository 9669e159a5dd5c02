package search

import (
	"github.com/golang/geo/r3"
)

// mostOrdered is how many boxes every order is tried for: 5040 orders.
const mostOrdered = 7

// round is the shortest way from the inverter through boxes and back, along the axes; without an inverter the
// shortest way through the boxes.
type round struct {
	order    []int // boxes in the order in which they are passed
	lengthMM float64
	leadMM   float64   // mean of the boxes' distances from the inverter
	centre   r3.Vector // centre of the round's length
}

// shortestRound tries every order of up to mostOrdered boxes; of more it takes the order given.
func shortestRound(hub *r3.Vector, at []r3.Vector, boxes []int) round {
	best := round{order: boxes, lengthMM: wayLength(hub, at, boxes)}
	if len(boxes) <= mostOrdered {
		permute(boxes, func(order []int) {
			if l := wayLength(hub, at, order); l < best.lengthMM-1e-9 {
				best.order, best.lengthMM = append([]int(nil), order...), l
			}
		})
	}
	if hub != nil {
		for _, b := range boxes {
			best.leadMM += alongAxes(*hub, at[b]) / float64(len(boxes))
		}
	}
	best.centre = wayCentre(hub, at, best.order)
	return best
}

// permute calls f for every order of a list, in lexical order.
func permute(list []int, f func([]int)) {
	order := append([]int(nil), list...)
	var rec func(k int)
	rec = func(k int) {
		if k == len(order) {
			f(order)
			return
		}
		for i := k; i < len(order); i++ {
			v := order[i]
			copy(order[k+1:i+1], order[k:i])
			order[k] = v
			rec(k + 1)
			copy(order[k:i], order[k+1:i+1])
			order[i] = v
		}
	}
	rec(0)
}

func alongAxes(a, b r3.Vector) float64 {
	d := a.Sub(b).Abs()
	return d.X + d.Y + d.Z
}

func stops(hub *r3.Vector, at []r3.Vector, order []int) []r3.Vector {
	out := make([]r3.Vector, 0, len(order)+2)
	if hub != nil {
		out = append(out, *hub)
	}
	for _, b := range order {
		out = append(out, at[b])
	}
	if hub != nil {
		out = append(out, *hub)
	}
	return out
}

func wayLength(hub *r3.Vector, at []r3.Vector, order []int) float64 {
	sum := 0.0
	ps := stops(hub, at, order)
	for i := 1; i < len(ps); i++ {
		sum += alongAxes(ps[i-1], ps[i])
	}
	return sum
}

// wayCentre takes the middle of each leg by its length.
func wayCentre(hub *r3.Vector, at []r3.Vector, order []int) r3.Vector {
	var c r3.Vector
	sum := 0.0
	ps := stops(hub, at, order)
	for i := 1; i < len(ps); i++ {
		d := alongAxes(ps[i-1], ps[i])
		c = c.Add(ps[i-1].Add(ps[i]).Mul(d / 2))
		sum += d
	}
	if sum == 0 {
		if len(ps) > 0 {
			return ps[0]
		}
		return c
	}
	return c.Mul(1 / sum)
}
