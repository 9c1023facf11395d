package render

import (
	"math"
	"testing"

	"tubewright/route"
)

// allSymbols are those of the table and of switches of several kinds.
func allSymbols() []*symbol {
	var out []*symbol
	for i := range symbols {
		out = append(out, &symbols[i])
	}
	const one, two, between = route.OneWay, route.TwoWay, route.Intermediate
	for _, roles := range [][]route.SwitchRole{{0}, {one}, {two}, {between}, {one, one}, {one, one, one}, {one, one, one, one},
		{two, one}, {two, two}, {0, 0}, {two, between, one}, {one, 0}, {one, one, one, one, one, one, one}} {
		out = append(out, switchSymbol(roles))
	}
	return out
}

// symbolSheet is a legend of every symbol, upright and turned, with the marks
// for conductors beneath.
func symbolSheet() *Sheet {
	s := NewSheet(210, 240)
	for i, sym := range allSymbols() {
		x, y := 16+float64(i%3)*66, 14+float64(i/3)*16
		sym.draw(s, x, y, 9, 0)
		sym.draw(s, x+24, y, 6, 90)
		s.Text(Text{S: sym.title, X: x - 5, Y: y + 8, Height: TextSmall})
	}
	for i, n := range []int{1, 2, 3, 4, 5, 12} {
		x, y := 16+float64(i)*32, 230.0
		s.Line(PenOutline, false, x-8, y, x+16, y)
		Conductors(s, x, y, 6, 0, n)
	}
	return s
}

func TestSymbolGolden(t *testing.T) { golden(t, "symbols", symbolSheet()) }

func TestSymbolsStayInTheirSquare(t *testing.T) {
	for _, sym := range allSymbols() {
		name, most := sym.name, 10*math.Hypot(1, sym.halfWide())+0.01
		for _, angle := range []float64{0, 37, 90, 180} {
			s := NewSheet(100, 100)
			sym.draw(s, 50, 50, 20, angle)
			for _, m := range s.List {
				xy := reach(m)
				for i := 0; i < len(xy); i += 2 {
					if math.Hypot(xy[i]-50, xy[i+1]-50) > most {
						t.Errorf("%s at %g°: %v leaves its square", name, angle, m)
					}
				}
			}
		}
	}
}

// reach returns points that bound a mark.
func reach(m Mark) []float64 {
	switch m := m.(type) {
	case lineMark:
		return m.xy
	case fillMark:
		return m.xy
	case arcMark:
		return arcPoints(m.cx, m.cy, m.r, m.fromDeg, m.toDeg)
	case discMark:
		return arcPoints(m.cx, m.cy, m.r, 0, 360)
	case textMark:
		p := place(m.Text)
		return p.corners[:]
	}
	return nil
}

// spots returns the points of a mark that turn with it; of a circle, which
// looks the same all ways round, only its centre.
func spots(m Mark) []float64 {
	switch m := m.(type) {
	case discMark:
		return []float64{m.cx, m.cy}
	case arcMark:
		if m.toDeg-m.fromDeg >= 360 {
			return []float64{m.cx, m.cy}
		}
	}
	return reach(m)
}

// Turning a symbol turns every mark of it but its letters.
func TestSymbolTurns(t *testing.T) {
	for _, sym := range allSymbols() {
		name := sym.name
		a, b := NewSheet(100, 100), NewSheet(100, 100)
		sym.draw(a, 0, 0, 20, 0)
		sym.draw(b, 0, 0, 20, 90)
		for i := range a.List {
			if _, ok := a.List[i].(textMark); ok {
				continue
			}
			p, q := spots(a.List[i]), spots(b.List[i])
			for k := 0; k < len(p); k += 2 {
				if math.Abs(q[k]+p[k+1]) > 1e-9 || math.Abs(q[k+1]-p[k]) > 1e-9 {
					t.Fatalf("%s: %v turned by 90° is %v", name, a.List[i], b.List[i])
				}
			}
		}
	}
}

func TestSymbolNamesAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range allSymbols() {
		if seen[s.name] || seen[s.title] || s.title == "" {
			t.Errorf("%q, %q", s.name, s.title)
		}
		seen[s.name], seen[s.title] = true, true
	}
}

func TestConductorsCount(t *testing.T) {
	for n, want := range []struct {
		lines int
		text  string
	}{{0, ""}, {1, ""}, {2, ""}, {3, ""}, {4, ""}, {1, "5"}} {
		if n > 0 && n < 5 {
			want.lines = n
		}
		s := NewSheet(100, 100)
		Conductors(s, 50, 50, 5, 30, n)
		lines, text := 0, ""
		for _, m := range s.List {
			switch m := m.(type) {
			case lineMark:
				lines++
			case textMark:
				text = m.S
			}
		}
		if lines != want.lines || text != want.text {
			t.Errorf("%d conductors: %d strokes and %q", n, lines, text)
		}
	}
}
