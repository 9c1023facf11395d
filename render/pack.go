package render

import (
	"math"
	"math/rand/v2"
)

// disc is a cable in a cross-section, y down, in the unit of its radius.
type disc struct{ x, y, r float64 }

// bore is the inside of an enclosure, its middle at 0, 0.
type bore interface {
	// confine moves a disc the least way to lie inside.
	confine(d *disc)
	// outside returns how far a disc reaches into the wall.
	outside(d disc) float64
	// scatter picks a place at random for a disc that fits.
	scatter(r float64, rng *rand.Rand) (x, y float64)
	// size is the half width that lengths are compared with.
	size() float64
	area() float64
	// canHold says whether the disc alone goes in.
	canHold(r float64) bool
}

// packCircle settles discs of the given radii in a round bore as cables lie
// in a tube. It is a picture, not a proof: true means that the discs returned
// do not overlap by more than a millionth of the bore; false, that no such
// place was found for them all. Same radii, same picture. Costs a few
// milliseconds for twenty discs, some tens for a hundred and fifty.
func packCircle(radii []float64, boreRadius float64) ([]disc, bool) {
	return pack(radii, roundBore(boreRadius))
}

// packBox settles discs in a rectangle w wide and h high, as packCircle does.
func packBox(radii []float64, w, h float64) ([]disc, bool) {
	return pack(radii, boxBore{w / 2, h / 2})
}

// falls are the steps of the fall tried in turn, of the bore's size. A hard
// fall looks best; a gentle one finds room in a tight bore, and none at all is
// the last resort.
var falls = [...]float64{0.05, 0.05, 0.05, 0.05, 0.01, 0.01, 0.01, 0, 0, 0}

func pack(radii []float64, b bore) ([]disc, bool) {
	area := 0.0
	for _, r := range radii {
		if !(r > 0) || !b.canHold(r) {
			return nil, false
		}
		area += math.Pi * float64(r*r)
	}
	if area > b.area() {
		return nil, false
	}
	for seed, fall := range falls {
		if d, ok := settle(radii, b, fall*b.size(), uint64(seed)); ok {
			return d, true
		}
	}
	return nil, false
}

const (
	fallSteps   = 300
	slowing     = 0.97 // each step of the second half
	pushes      = 6    // passes after each step
	lastPushes  = 30   // passes without gravity, between two looks at the overlap
	progress    = 0.9  // of the overlap must go between two looks, or it is jammed
	gap         = 1e-3 // discs are pushed this share of their radius too far apart
	tolerance   = 1e-6 // overlap left, of the bore's size
	watchWithin = 0.35 // of the larger radius: neighbours to watch during one step
)

// settle drops discs from a random start: each step lets every disc fall,
// then pushes overlapping ones apart, the larger moving less, and back inside.
// Position-based relaxation, worked out for this project. The conversions keep
// a processor from fusing multiply and add, so every machine draws the same.
func settle(radii []float64, b bore, step float64, seed uint64) ([]disc, bool) {
	rng := rand.New(rand.NewPCG(seed, 1))
	discs := make([]disc, len(radii))
	for i, r := range radii {
		x, y := b.scatter(r, rng)
		discs[i] = disc{x, y, r * (1 + gap)}
	}
	var near [][2]int
	for i := range fallSteps {
		if i >= fallSteps/2 {
			step *= slowing
		}
		for k := range discs {
			discs[k].y += step
		}
		near = neighbours(discs, near[:0])
		for range pushes {
			push(discs, near, b)
		}
	}
	for last := math.Inf(1); ; {
		left := worst(discs, radii, b)
		if left < tolerance*b.size() {
			return trueSize(discs, radii), true
		}
		if left > last*progress {
			return nil, false
		}
		last = left
		near = neighbours(discs, near[:0])
		for range lastPushes {
			push(discs, near, b)
		}
	}
}

// neighbours lists the pairs that may touch within a few pushes.
func neighbours(d []disc, pairs [][2]int) [][2]int {
	for i := range d {
		for j := i + 1; j < len(d); j++ {
			reach := d[i].r + d[j].r + watchWithin*max(d[i].r, d[j].r)
			dx, dy := d[j].x-d[i].x, d[j].y-d[i].y
			if float64(dx*dx)+float64(dy*dy) < float64(reach*reach) {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	return pairs
}

func push(d []disc, near [][2]int, b bore) {
	for _, p := range near {
		apart(&d[p[0]], &d[p[1]])
	}
	for i := range d {
		b.confine(&d[i])
	}
}

// apart separates two discs along the line of their centres.
func apart(a, b *disc) {
	dx, dy := b.x-a.x, b.y-a.y
	sum := a.r + b.r
	d2 := float64(dx*dx) + float64(dy*dy)
	if d2 >= float64(sum*sum) {
		return
	}
	d := math.Sqrt(d2)
	if d < 1e-9*sum {
		dx, dy, d = sum, 0, sum
		d2 = 0
	}
	depth := sum - math.Sqrt(d2)
	aa, bb := float64(a.r*a.r), float64(b.r*b.r)
	ka, kb := depth*bb/(aa+bb)/d, depth*aa/(aa+bb)/d
	a.x -= float64(dx * ka)
	a.y -= float64(dy * ka)
	b.x += float64(dx * kb)
	b.y += float64(dy * kb)
}

// worst returns the largest overlap of the discs at their true radii.
func worst(d []disc, radii []float64, b bore) float64 {
	most := 0.0
	for i := range d {
		most = max(most, b.outside(disc{d[i].x, d[i].y, radii[i]}))
		for j := i + 1; j < len(d); j++ {
			dx, dy := d[j].x-d[i].x, d[j].y-d[i].y
			sum := radii[i] + radii[j]
			if d2 := float64(dx*dx) + float64(dy*dy); d2 < float64(sum*sum) {
				most = max(most, sum-math.Sqrt(d2))
			}
		}
	}
	return most
}

func trueSize(d []disc, radii []float64) []disc {
	for i := range d {
		d[i].r = radii[i]
	}
	return d
}

// roundBore is a tube by its inside radius.
type roundBore float64

func (b roundBore) size() float64          { return float64(b) }
func (b roundBore) area() float64          { return math.Pi * float64(b*b) }
func (b roundBore) canHold(r float64) bool { return r <= float64(b) }

func (b roundBore) outside(d disc) float64 {
	return math.Sqrt(float64(d.x*d.x)+float64(d.y*d.y)) + d.r - float64(b)
}

func (b roundBore) confine(d *disc) {
	room := max(0, float64(b)-d.r)
	away := math.Sqrt(float64(d.x*d.x) + float64(d.y*d.y))
	if away > room {
		d.x *= room / away
		d.y *= room / away
	}
}

func (b roundBore) scatter(r float64, rng *rand.Rand) (x, y float64) {
	room := (float64(b) - r) * math.Sqrt(rng.Float64())
	sin, cos := math.Sincos(2 * math.Pi * rng.Float64())
	return float64(room * cos), float64(room * sin)
}

// boxBore is a trunking by half its inside width and height.
type boxBore struct{ w, h float64 }

func (b boxBore) size() float64          { return max(b.w, b.h) }
func (b boxBore) area() float64          { return 4 * b.w * b.h }
func (b boxBore) canHold(r float64) bool { return r <= min(b.w, b.h) }

func (b boxBore) outside(d disc) float64 {
	return max(math.Abs(d.x)+d.r-b.w, math.Abs(d.y)+d.r-b.h)
}

func (b boxBore) confine(d *disc) {
	w, h := max(0, b.w-d.r), max(0, b.h-d.r)
	d.x = min(w, max(-w, d.x))
	d.y = min(h, max(-h, d.y))
}

func (b boxBore) scatter(r float64, rng *rand.Rand) (x, y float64) {
	return float64((b.w - r) * (2*rng.Float64() - 1)), float64((b.h - r) * (2*rng.Float64() - 1))
}
