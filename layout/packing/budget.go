package packing

import (
	"context"
	"sync/atomic"
	"time"
)

// Parts of a problem share the time by work done, not by the clock, so that the same
// problem gives the same result on a busy machine as on a quiet one: each loop adds
// what its steps cost on a common core, in nanoseconds as estimated, and a part ends
// when its budget is spent. The clock ends the whole only.

// budget is a context that ends with its parent or when its work is spent.
type budget struct {
	context.Context
	limit int64 // 0 means no limit
	spent atomic.Int64
}

// Err tells that the work is spent as if a deadline had passed.
func (b *budget) Err() error {
	if b.limit > 0 && b.spent.Load() >= b.limit {
		return context.DeadlineExceeded
	}
	return b.Context.Err()
}

// spend adds work to every budget a context is in.
func spend(ctx context.Context, work int64) {
	for b, ok := ctx.(*budget); ok; b, ok = b.Context.(*budget) {
		b.spent.Add(work)
	}
}

// costing is a test for the end of a context that spends some work each time.
func costing(ctx context.Context, work int64) func() bool {
	return func() bool {
		spend(ctx, work)
		return ctx.Err() != nil
	}
}

// quietShare is the part of the time limit that work may fill: the rest is for what
// is not counted, and for cores slower than the one on which costs were measured.
const quietShare = 0.6

// left is the work that a context may still do.
func (s *session) left() int64 {
	left := int64(quietShare * float64(s.limit))
	for b, ok := s.ctx.(*budget); ok; b, ok = b.Context.(*budget) {
		if b.limit == 0 {
			left = min(left, int64(quietShare*float64(s.limit))-b.spent.Load())
		} else {
			left = min(left, b.limit-b.spent.Load())
		}
	}
	return max(left, int64(time.Millisecond))
}

// portion limits the session to a part of the work left, when asked to; the function
// returned lifts the limit.
func (s *session) portion(part float64, limit bool) func() {
	if !limit {
		return func() {}
	}
	whole := s.ctx
	s.ctx = &budget{Context: whole, limit: max(1, int64(part*float64(s.left())))}
	return func() { s.ctx = whole }
}
