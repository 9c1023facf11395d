package render

import (
	"math"
	"testing"
)

func repeat(n int, c SectionCable) []SectionCable {
	var out []SectionCable
	for range n {
		out = append(out, c)
	}
	return out
}

// cores are three-core sets of singles, line, neutral and cpc.
func cores(sets int, diameterMM float64) []SectionCable {
	var out []SectionCable
	for range sets {
		for _, k := range []CableKind{CoreL1, CoreN, CoreCPC} {
			out = append(out, SectionCable{Kind: k, DiameterMM: diameterMM})
		}
	}
	return out
}

var sections = []struct {
	name string
	spec SectionSpec
}{
	{"20 mm tube, 2 sets", SectionSpec{WidthMM: 20, WallMM: 1.6, Cables: cores(2, 3.9)}},
	{"25 mm tube, 4 sets and switched lines", SectionSpec{WidthMM: 25, WallMM: 1.6, Cables: append(cores(4, 3.4),
		SectionCable{Kind: CoreL1, DiameterMM: 3.4, Letter: "SL1"}, SectionCable{Kind: CoreL1, DiameterMM: 3.4, Letter: "S1"})}},
	{"16 mm tube, too many", SectionSpec{WidthMM: 16, WallMM: 1.4, Cables: cores(4, 3.9)}},
	{"50 x 50 trunking", SectionSpec{WidthMM: 50, HeightMM: 50, WallMM: 1.2, Cables: append(append(cores(6, 4.4), cores(5, 3.4)...),
		SectionCable{Kind: CoreL2, DiameterMM: 6.8}, SectionCable{Kind: CoreL3, DiameterMM: 6.8})}},
	{"100 x 50 trunking, sheathed", SectionSpec{WidthMM: 100, HeightMM: 50, WallMM: 1.4, Cables: append(
		repeat(5, SectionCable{Kind: FlatTwin, DiameterMM: 11.5, HeightMM: 6.2}),
		append(repeat(3, SectionCable{Kind: RoundSheathed, DiameterMM: 14}), cores(4, 5.2)...)...)}},
	{"32 mm tube, empty", SectionSpec{WidthMM: 32, WallMM: 1.6}},
}

func sectionSheet() *Sheet {
	s := NewSheet(220, 120)
	for i, c := range sections {
		x, y := 35+float64(i%3)*68, 27+float64(i/3)*58
		size := 36.0
		s.Group("section", c.name)
		Section(s, x, y, size, c.spec)
		s.End()
		s.Text(Text{S: c.name, X: x, Y: y + 24, Height: TextSmall, AlignX: Centre})
	}
	return s
}

func TestSectionGolden(t *testing.T) { golden(t, "sections", sectionSheet()) }

func TestSectionCountsWhatIsOutside(t *testing.T) {
	single := SectionCable{Kind: CoreL1, DiameterMM: 3.9}
	for _, c := range []struct {
		name   string
		spec   SectionSpec
		expect int
	}{
		{"all inside", SectionSpec{WidthMM: 25, WallMM: 1.6, Cables: repeat(10, single)}, 0},
		{"one thicker than the bore", SectionSpec{WidthMM: 16, WallMM: 1.4, Cables: repeat(1, SectionCable{DiameterMM: 14})}, 1},
		// Seven of diameter d need 3 d, eight need 3.305 d (published optima in
		// testdata/equal-in-circle.csv): 13 mm holds seven of 3.98, never eight.
		{"eighth does not go in", SectionSpec{WidthMM: 15, WallMM: 1, Cables: repeat(8, SectionCable{DiameterMM: 3.98})}, 1},
		{"no enclosure", SectionSpec{Cables: repeat(3, single)}, 3},
		{"wall thicker than the tube", SectionSpec{WidthMM: 10, WallMM: 6, Cables: repeat(2, single)}, 2},
	} {
		s := NewSheet(100, 100)
		if got := Section(s, 50, 50, 30, c.spec); got != c.expect {
			t.Errorf("%s: %d outside, expected %d", c.name, got, c.expect)
		}
		if c.spec.WidthMM > 2*c.spec.WallMM {
			if err := s.Check(); err != nil {
				t.Errorf("%s: %v", c.name, err)
			}
		}
	}
}

// A black and white print must tell the cores apart: by the letter, or by a
// darkness that differs (ITU-R BT.601 weights).
func TestCoresTellWithoutColour(t *testing.T) {
	dark := func(i Ink) float64 {
		r, g, b := i.RGB()
		return 0.299*float64(r) + 0.587*float64(g) + 0.114*float64(b)
	}
	for a := range cableKinds {
		for b := range a {
			la, lb := cableLooks[a], cableLooks[b]
			if a >= RoundSheathed || b == CoreOther || la.letter != lb.letter {
				continue
			}
			if math.Abs(dark(la.ink)-dark(lb.ink)) < 40 {
				t.Errorf("kinds %d and %d print alike", a, b)
			}
		}
		if l := cableLooks[a]; l.letter != "" && math.Abs(dark(l.ink)-dark(l.letterInk)) < 100 {
			t.Errorf("kind %d: its letter does not stand out", a)
		}
	}
	if math.Abs(dark(CoreGreen)-dark(CoreYellow)) < 80 {
		t.Error("the protective conductor's stripes print alike")
	}
}

func BenchmarkSection(b *testing.B) {
	spec := SectionSpec{WidthMM: 25, WallMM: 1.6, Cables: cores(4, 3.9)}
	for b.Loop() {
		Section(NewSheet(100, 100), 50, 50, 30, spec)
	}
}
