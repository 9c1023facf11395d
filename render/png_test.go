package render

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"runtime"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// picture draws at 10 pixels to the millimetre and reads the PNG back.
func picture(t fataler, s *Sheet) *image.Paletted {
	var b bytes.Buffer
	if err := WritePNG(&b, s, 254); err != nil {
		t.Fatalf("%v", err)
	}
	im, err := png.Decode(&b)
	if err != nil {
		t.Fatalf("%v", err)
	}
	p, ok := im.(*image.Paletted)
	if !ok || len(p.Palette) > 16 {
		t.Fatalf("%T with too many colours", im)
	}
	return p
}

func ink(im image.Image, x, y int) color.RGBA {
	return color.RGBAModel.Convert(im.At(x, y)).(color.RGBA)
}

func TestPNGPaints(t *testing.T) {
	s := NewSheet(40, 30)
	s.Fill(Red, 5, 5, 10, 5, 10, 10, 5, 10)
	s.Disc(CoreBlue, 20, 15, 3)
	s.Line(PenOutline, false, 0, 25, 40, 25)
	s.Arc(PenOutline, 30, 8, 5, 0, 90)
	im := picture(t, s)
	if im.Rect != image.Rect(0, 0, 400, 300) {
		t.Fatalf("size %v", im.Rect)
	}
	for _, c := range []struct {
		x, y int
		want Ink
		what string
	}{
		{75, 75, Red, "inside the square"},
		{45, 75, White, "left of the square"},
		{200, 150, CoreBlue, "in the disc"},
		{200 + 28, 150, CoreBlue, "in the disc, near its edge"},
		{200 + 32, 150, White, "beyond the disc"},
		{200, 250, Black, "on the line"},
		{200, 256, White, "below the line"},
		{300 + 35, 80 + 35, Black, "on the arc: clockwise from the right is down"},
		{300 + 35, 80 - 35, White, "where the arc is not"},
	} {
		if got := ink(im, c.x, c.y); got != c.want.rgba() {
			t.Errorf("%s: %v, expected %v", c.what, got, c.want)
		}
	}
}

// Every ink comes out of the picture as it went in.
func TestPNGInks(t *testing.T) {
	for i := range inkCount {
		s := NewSheet(4, 4)
		s.Fill(i, 0, 0, 4, 0, 4, 4, 0, 4)
		if got := ink(picture(t, s), 20, 20); got != i.rgba() {
			t.Errorf("%v came out as %v", i, got)
		}
	}
}

// Black and white stay grey at their edges: no colour creeps in.
func TestPNGGreyEdges(t *testing.T) {
	s := NewSheet(30, 30)
	s.Arc(PenFrame, 15, 15, 10, 0, 360)
	s.Text(Text{S: "Ω 25 mm²", X: 3, Y: 20, Height: 3, Angle: -17})
	im := picture(t, s)
	for y := range 300 {
		for x := range 300 {
			if c := ink(im, x, y); c.R != c.G || c.G != c.B {
				t.Fatalf("%d,%d is %v", x, y, c)
			}
		}
	}
}

// A thin level line is as black, and as thick, wherever it lies.
func TestPNGSnapsThinLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := rapid.Float64Range(1, 9).Draw(t, "place")
		upright := rapid.Bool().Draw(t, "upright")
		s := NewSheet(10, 10)
		if upright {
			s.Line(PenHatch, false, at, 0, at, 10)
		} else {
			s.Line(PenHatch, false, 0, at, 10, at)
		}
		im := picture(t, s)
		dark := 0
		for i := range 100 {
			x, y := 50, i
			if upright {
				x, y = i, 50
			}
			switch ink(im, x, y) {
			case Black.rgba():
				dark++
			case White.rgba():
			default:
				t.Fatalf("grey at %d,%d", x, y)
			}
		}
		if dark != 1 {
			t.Fatalf("%d pixels thick", dark)
		}
	})
}

func TestPNGText(t *testing.T) {
	// The ink of an H 10 mm high reaches from the base line to 10 mm above.
	s := NewSheet(40, 40)
	s.Text(Text{S: "H", X: 20, Y: 25, Height: 10, AlignX: Centre})
	top, bottom, left, right := inked(picture(t, s))
	if top != 150 || bottom != 249 {
		t.Errorf("rows %d to %d", top, bottom)
	}
	if d := (left + right + 1) - 400; d < -2 || d > 2 {
		t.Errorf("columns %d to %d are not centred", left, right)
	}
	// Turned by 90° clockwise its foot points left.
	s = NewSheet(40, 40)
	s.Text(Text{S: "H", X: 15, Y: 20, Height: 10, Angle: 90, AlignX: Centre})
	_, _, left, right = inked(picture(t, s))
	if left != 150 || right != 249 {
		t.Errorf("turned: columns %d to %d", left, right)
	}
	for _, a := range []struct {
		y    AlignY
		rows [2]int
	}{{Top, [2]int{200, 299}}, {Middle, [2]int{150, 249}}} {
		s = NewSheet(40, 40)
		s.Text(Text{S: "H", X: 20, Y: 20, Height: 10, AlignY: a.y})
		if top, bottom, _, _ = inked(picture(t, s)); [2]int{top, bottom} != a.rows {
			t.Errorf("%v: rows %d to %d", a.y, top, bottom)
		}
	}
}

// inked returns the bounds of what is not white.
func inked(im *image.Paletted) (top, bottom, left, right int) {
	top, left, bottom, right = math.MaxInt, math.MaxInt, -1, -1
	for y := range im.Rect.Dy() {
		for x := range im.Rect.Dx() {
			if ink(im, x, y) != White.rgba() {
				top, bottom = min(top, y), max(bottom, y)
				left, right = min(left, x), max(right, x)
			}
		}
	}
	return top, bottom, left, right
}

// A rune the typeface lacks shows as a box, never as nothing.
func TestPNGMissingRuneShows(t *testing.T) {
	s := NewSheet(20, 20)
	s.Text(Text{S: "日", X: 5, Y: 15, Height: 5})
	if _, bottom, _, _ := inked(picture(t, s)); bottom < 0 {
		t.Error("nothing was drawn")
	}
}

// The pHYs chunk of the PNG specification (ISO/IEC 15948, 11.3.5.3): 300 dots
// per inch are 11811 a metre.
func TestPNGKeepsItsScale(t *testing.T) {
	var b bytes.Buffer
	if err := WritePNG(&b, NewSheet(10, 10), 300); err != nil {
		t.Fatal(err)
	}
	chunk := b.Bytes()[33:54]
	if binary.BigEndian.Uint32(chunk) != 9 || string(chunk[4:8]) != "pHYs" || chunk[16] != 1 ||
		binary.BigEndian.Uint32(chunk[8:]) != 11811 || binary.BigEndian.Uint32(chunk[12:]) != 11811 ||
		binary.BigEndian.Uint32(chunk[17:]) != crc32.ChecksumIEEE(chunk[4:17]) {
		t.Errorf("chunk % x", chunk)
	}
	if depth := b.Bytes()[24]; depth != 4 {
		t.Errorf("%d bits a pixel", depth)
	}
}

func TestPNGSameBytes(t *testing.T) {
	draw := func(workers int) []byte {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(workers))
		var b bytes.Buffer
		if err := WritePNG(&b, fullSheet(), 60); err != nil {
			t.Fatal(err)
		}
		return b.Bytes()
	}
	one := draw(1)
	for _, workers := range []int{1, 2, 5} {
		if !bytes.Equal(one, draw(workers)) {
			t.Errorf("%d workers drew other bytes", workers)
		}
	}
}

func TestPNGRefuses(t *testing.T) {
	bad := NewSheet(10, 10)
	bad.Disc(Black, math.NaN(), 0, 1)
	for _, c := range []struct {
		name string
		s    *Sheet
		dpi  int
		want string
	}{
		{"no width", NewSheet(0, 10), 100, "more than 0"},
		{"below nothing", NewSheet(10, -1), 100, "more than 0"},
		{"not a number", NewSheet(math.NaN(), 10), 100, "more than 0"},
		{"endless", NewSheet(math.Inf(1), 10), 100, "at most 5000 mm"},
		{"coarse", NewSheet(10, 10), 1, "24 to 1200 dots"},
		{"fine", NewSheet(10, 10), 99999, "24 to 1200 dots"},
		{"too many pixels", NewSheet(4000, 4000), 600, "million pixels"},
		{"bad mark", bad, 100, "must be a number"},
	} {
		var b bytes.Buffer
		err := WritePNG(&b, c.s, c.dpi)
		if err == nil || !strings.Contains(err.Error(), c.want) || b.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", c.name, err, b.Len())
		}
	}
	var b bytes.Buffer
	if err := WritePNG(&b, NewSheet(0.1, 0.1), 24); err != nil {
		t.Errorf("a sheet below a pixel: %v", err)
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, io.ErrShortWrite }

func TestPNGPassesErrorsOn(t *testing.T) {
	if err := WritePNG(fullDisk{}, NewSheet(10, 10), 100); err != io.ErrShortWrite {
		t.Errorf("got %v", err)
	}
}

// Whatever passes Check is drawn, and what lies outside leaves no trace.
func TestPNGAnyMark(t *testing.T) {
	anywhere := rapid.OneOf(rapid.Float64Range(-farthest, farthest), rapid.Float64Range(-5, 25))
	rapid.Check(t, func(t *rapid.T) {
		s := NewSheet(20, 20)
		pen := Pen{
			WidthMM: rapid.Float64Range(1e-6, 3).Draw(t, "pen width"),
			Dash:    rapid.SampledFrom([]Dash{Solid, Dashed, Chain, Dotted}).Draw(t, "dash"),
		}
		xy := rapid.SliceOfN(anywhere, 6, 6).Draw(t, "points")
		s.Line(pen, rapid.Bool().Draw(t, "closed"), xy...)
		s.Fill(Grey, xy...)
		r := rapid.OneOf(rapid.Float64Range(1e-6, farthest), rapid.Float64Range(0.1, 30)).Draw(t, "radius")
		s.Arc(pen, xy[0], xy[1], r, anywhere.Draw(t, "from"), anywhere.Draw(t, "to"))
		s.Disc(LightGrey, xy[2], xy[3], r)
		s.Text(Text{S: rapid.StringN(0, 20, -1).Draw(t, "text"), X: xy[0], Y: xy[1],
			Height: rapid.Float64Range(0.1, highest).Draw(t, "height"), Angle: xy[4]})
		picture(t, s)
	})
}
