package render

import (
	"math"
	"testing"
)

// symbolSheet is a legend of every symbol, upright and turned, with the marks
// for conductors beneath.
func symbolSheet() *Sheet {
	s := NewSheet(210, 148)
	for i, name := range Symbols() {
		x, y := 16+float64(i%4)*50, 14+float64(i/4)*16
		Symbol(s, name, x, y, 9, 0)
		Symbol(s, name, x+12, y, 6, 90)
		s.Text(Text{S: SymbolTitle(name), X: x - 5, Y: y + 8, Height: TextSmall})
	}
	for i, n := range []int{1, 2, 3, 4, 5, 12} {
		x, y := 16+float64(i)*32, 138.0
		s.Line(PenOutline, false, x-8, y, x+16, y)
		Conductors(s, x, y, 6, 0, n)
	}
	return s
}

func TestSymbolGolden(t *testing.T) { golden(t, "symbols", symbolSheet()) }

func TestSymbolsStayInTheirSquare(t *testing.T) {
	for _, name := range Symbols() {
		for _, angle := range []float64{0, 37, 90, 180} {
			s := NewSheet(100, 100)
			if !Symbol(s, name, 50, 50, 20, angle) {
				t.Fatalf("%s is listed and not drawn", name)
			}
			for _, m := range s.List {
				xy := reach(m)
				for i := 0; i < len(xy); i += 2 {
					if math.Hypot(xy[i]-50, xy[i+1]-50) > 10*math.Sqrt2+0.01 {
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
	for _, name := range Symbols() {
		a, b := NewSheet(100, 100), NewSheet(100, 100)
		Symbol(a, name, 0, 0, 20, 0)
		Symbol(b, name, 0, 0, 20, 90)
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

func TestSymbolUnknown(t *testing.T) {
	s := NewSheet(10, 10)
	if Symbol(s, "kettle", 5, 5, 5, 0) || len(s.List) != 0 {
		t.Error("a symbol that does not exist was drawn")
	}
}

func TestSymbolNamesAreUnique(t *testing.T) {
	seen := map[string]bool{}
	for _, s := range symbols {
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
