package render

import "testing"

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
	s := NewSheet(210, 120)
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

func TestSectionGolden(t *testing.T) {
	s := sectionSheet()
	if err := s.Check(); err != nil {
		t.Fatal(err)
	}
	look(t, "sections", s, 200)
}
