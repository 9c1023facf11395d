package cut

import "context"

// effort counts elementary steps, so that a plan does not depend on the speed
// of the machine. The context is asked now and then.
type effort struct {
	ctx     context.Context
	left    int
	ask     int // steps until the context is asked again
	stopped bool
}

const stepsPerAsk = 100_000

func newEffort(ctx context.Context, steps int) *effort {
	if steps == 0 {
		steps = DefaultEffort
	}
	return &effort{ctx: ctx, left: steps}
}

// spend reports whether there was that much left.
func (e *effort) spend(steps int) bool {
	e.left -= steps
	e.ask -= steps
	if e.ask <= 0 {
		e.ask = stepsPerAsk
		e.stopped = e.stopped || e.ctx.Err() != nil
	}
	e.stopped = e.stopped || e.left < 0
	return !e.stopped
}
