package render

import (
	"math"
	"strings"
	"testing"
)

// everyMark is a sheet with one mark of each sort.
func everyMark() *Sheet {
	s := NewSheet(100, 50)
	s.Group("run-A", "Run A")
	s.Line(PenHidden, false, 1, 2, 3.456, -0.001)
	s.Line(PenOutline, true, 0, 0, 1, 0, 1, 1)
	s.Fill(Red, 0, 0, 1, 0, 1, 1)
	s.End()
	s.Arc(PenCentre, 10, 10, 5, 0, 360)
	s.Disc(CoreBlue, 20, 20, 2)
	s.Text(Text{S: `2.5 mm² "tails"`, X: 30, Y: 30, Height: TextNormal, Angle: -90, AlignX: Right, AlignY: Top, Bold: true})
	return s
}

func TestMarksPrint(t *testing.T) {
	want := `sheet 100.00 x 50.00
group run-A "Run A"
  line 0.25 black dashed 1.00,2.00 3.46,0.00
  loop 0.50 black solid 0.00,0.00 1.00,0.00 1.00,1.00
  fill red 0.00,0.00 1.00,0.00 1.00,1.00
end
arc 0.18 black chain 10.00,10.00 r 5.00 from 0.00 to 360.00
disc core-blue 20.00,20.00 r 2.00
text "2.5 mm² \"tails\"" 30.00,30.00 high 2.50 turned -90.00 right top bold black
`
	if got := everyMark().Marks(); got != want {
		t.Errorf("got\n%s", got)
	}
}

func TestReplayIsTheSame(t *testing.T) {
	a := everyMark()
	b := NewSheet(a.Width, a.Height)
	a.Draw(b)
	if a.Marks() != b.Marks() {
		t.Errorf("replayed\n%s", b.Marks())
	}
}

// A caller may use its slice again: the sheet keeps its own.
func TestSheetKeepsItsOwnPoints(t *testing.T) {
	xy := []float64{0, 0, 1, 1, 2, 0}
	s := NewSheet(10, 10)
	s.Line(PenEdge, false, xy...)
	s.Fill(Black, xy...)
	before := s.Marks()
	xy[0] = 9
	if s.Marks() != before {
		t.Error("marks changed with the caller's slice")
	}
}

func TestCheck(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name string
		draw func(s *Sheet)
		want string
	}{
		{"good", func(s *Sheet) { everyMark().Draw(s) }, ""},
		{"not a number", func(s *Sheet) { s.Line(PenEdge, false, 0, 0, nan, 1) }, "must be a number"},
		{"infinite", func(s *Sheet) { s.Disc(Black, inf, 0, 1) }, "must be a number"},
		{"beyond reach", func(s *Sheet) { s.Disc(Black, 1e7, 0, 1) }, "must be a number"},
		{"odd", func(s *Sheet) { s.Line(PenEdge, false, 0, 0, 1) }, "an x without its y"},
		{"one point", func(s *Sheet) { s.Line(PenEdge, false, 0, 0) }, "at least 2 points"},
		{"two corners", func(s *Sheet) { s.Fill(Black, 0, 0, 1, 1) }, "at least 3 points"},
		{"no radius", func(s *Sheet) { s.Arc(PenEdge, 0, 0, 0, 0, 90) }, "radius must be above 0"},
		{"no width", func(s *Sheet) { s.Line(Pen{}, false, 0, 0, 1, 1) }, "a pen must be above 0"},
		{"vast pen", func(s *Sheet) { s.Line(Pen{WidthMM: 1000}, false, 0, 0, 1, 1) }, "a pen must be"},
		{"no dash", func(s *Sheet) { s.Line(Pen{WidthMM: 1, Dash: 99}, false, 0, 0, 1, 1) }, "unknown dash"},
		{"no height", func(s *Sheet) { s.Text(Text{S: "x"}) }, "text must be above 0"},
		{"left open", func(s *Sheet) { s.Group("a", "") }, "left open"},
		{"never opened", func(s *Sheet) { s.End() }, "never opened"},
	} {
		s := NewSheet(100, 100)
		c.draw(s)
		err := s.Check()
		switch {
		case c.want == "" && err != nil:
			t.Errorf("%s: %v", c.name, err)
		case c.want != "" && (err == nil || !strings.Contains(err.Error(), c.want)):
			t.Errorf("%s: got %v, expected %q", c.name, err, c.want)
		}
	}
}

func TestCheckReportsAllAtOnce(t *testing.T) {
	s := NewSheet(10, 10)
	s.Disc(Black, 0, 0, -1)
	s.Line(PenEdge, false, 0, 0, 1)
	if err := s.Check(); err == nil || !strings.Contains(err.Error(), "mark 1") || !strings.Contains(err.Error(), "mark 2") {
		t.Errorf("got %v", err)
	}
}

// Every dash repeats slowly enough for the rasteriser, whatever the pen.
func TestDashesNeverVanish(t *testing.T) {
	for d := range dashCount {
		if err := checkPen(Pen{WidthMM: 1e-9, Dash: d}); err != nil {
			t.Error(err)
		}
	}
}

// ISO 128-2 steps its line widths by √2 (from memory): each width is the one
// before times √2, rounded.
func TestPenSeries(t *testing.T) {
	widths := []float64{W13, W18, W25, W35, W50, W70}
	for i := 1; i < len(widths); i++ {
		if r := widths[i] / widths[i-1]; math.Abs(r-math.Sqrt2) > 0.05 {
			t.Errorf("%g after %g is a step of %.3f", widths[i], widths[i-1], r)
		}
	}
}

func TestClashes(t *testing.T) {
	at := func(x, y, angle float64) Text { return Text{S: "abcdef", X: x, Y: y, Height: 5, Angle: angle} }
	for _, c := range []struct {
		name  string
		texts []Text
		want  int
	}{
		{"apart", []Text{at(10, 20, 0), at(10, 30, 0)}, 0},
		{"on each other", []Text{at(10, 20, 0), at(15, 22, 0)}, 1},
		{"crossing", []Text{at(10, 20, 0), at(20, 30, -90)}, 1},
		{"slanting past", []Text{at(10, 20, 45), at(25, 20, 45)}, 0},
		{"off the sheet", []Text{at(95, 20, 0)}, 1},
	} {
		s := NewSheet(100, 100)
		for _, x := range c.texts {
			s.Text(x)
		}
		if got := s.Clashes(); len(got) != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
