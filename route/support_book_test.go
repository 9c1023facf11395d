package route_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/factors/us"
	"tubewright/route"
)

// bookFigure is a figure that a source prints, compared at the source's own
// rounding. A figure that we know to differ says why, and the test fails when
// it no longer does.
type bookFigure struct {
	what, book string
	ours       float64
	differs    string
}

// TestSupportExpansionEstimatingBook holds every published worked example of
// supports, expansion and estimating that was read to the book's digits.
func TestSupportExpansionEstimatingBook(t *testing.T) {
	for title, figures := range map[string][]bookFigure{
		"a maker's conduit page: 3 m of rigid plastic, 25 K (read whole)":                                    plasticGrows(),
		"a maker's expansion fittings: 8 in of travel, -10 to 110 °F, set at 65 °F (read whole)":             setOfAJoint(),
		"a mailing list, 18 May 2010: 100 ft of steel tubing in sun, 100 °F (read whole)":                    steelInSun(),
		"a maker's conduit page: saddle spacing of rigid plastic, four sizes, and 9 m of 20 mm (read whole)": saddlesOfPlastic(t),
		"a forum: ten feet of steel tubing, 93 °F (read whole)":                                              tenFeetOfSteel(),
		"a price book: hours a metre, four singles and earth drawn in (read whole)":                          hoursAMetre(t),
		"a rate analysis, 2017: a watertight lighting point (read whole)":                                    lightingPoint(t),
		"a business newsletter: labour from a ladder (read whole)":                                           fromALadder(t),
		"a course on take-off: hours and price of tube and wire (read whole)":                                tubeAndWire(t),
	} {
		for _, f := range figures {
			book, err := strconv.ParseFloat(f.book, 64)
			if err != nil {
				t.Fatal(err)
			}
			_, decimals, _ := strings.Cut(f.book, ".")
			agrees := math.Abs(f.ours-book) <= 0.5*math.Pow10(-len(decimals))+1e-9
			switch {
			case !agrees && f.differs == "":
				t.Errorf("%s: %s: %v, the book has %s", title, f.what, f.ours, f.book)
			case agrees && f.differs != "":
				t.Errorf("%s: %s now agrees with the book: strike %q", title, f.what, f.differs)
			}
		}
	}
}

func grows(alpha, longM, swingK float64) float64 {
	return route.Movement(nil, sum.Term{Value: alpha}, sum.Term{Value: longM}, sum.Term{Value: swingK}).Value
}

func plasticGrows() (out []bookFigure) {
	for name, printed := range map[string]string{"smaller": "5", "larger": "5.25", "third": "4.56"} {
		out = append(out, bookFigure{"movement, the " + name + " figure", printed, grows(uk.PlasticExpansion(name).Num, 3, 25), ""})
	}
	return out
}

func setOfAJoint() []bookFigure {
	open := func(travel float64) float64 {
		return route.Opening(nil, sum.Term{Value: travel, Unit: "in"}, sum.Term{Value: 110}, sum.Term{Value: 65}, sum.Term{Value: -10}).Value
	}
	return []bookFigure{{"set", "3", open(8), ""}, {"share of the travel", "0.375", open(1), ""}, {"two joints of 4 in", "3", 2 * open(4), ""}}
}

const inch, foot = 25.4, 0.3048

func steelInSun() []bookFigure {
	in := grows(0.0117, 100*foot, 100/1.8) / inch
	return []bookFigure{{"movement, in", "0.78", in, ""}, {"fittings of 1/4 in, the upper of 3 to 4", "4", math.Ceil(in / 0.25), ""}}
}

func tenFeetOfSteel() []bookFigure {
	in := grows(0.0117, 10*foot, 93/1.8) / inch
	return []bookFigure{{"movement, in", "0.072", in, "cut from 0.0725, not rounded"}, {"movement, in, recomputed", "0.0725", in, ""}}
}

func saddlesOfPlastic(t *testing.T) (out []bookFigure) {
	for size, printed := range map[string][2]string{"16": {"0.75", "1"}, "20": {"1.5", "1.75"}, "25": {"1.5", "1.75"}, "32": {"1.75", "2"}, "50": {"2", "2"}} {
		for i, word := range []string{"right", "up"} {
			s := oneRun(t, "plastic conduit "+size+", fixed: in masonry", word+" 60 m", oneLength).SetOut(nil, 0)
			widest := 0.0
			for k := 1; k < len(s.Saddles); k++ {
				widest = max(widest, s.Saddles[k].At-s.Saddles[k-1].At)
			}
			spacing, _ := strconv.ParseFloat(printed[i], 64)
			spaces := math.Ceil((s.LengthMM - 450) / (1000 * spacing))
			out = append(out, bookFigure{fmt.Sprintf("%s mm, %s: spaces", size, word), fmt.Sprint(spaces), float64(len(s.Saddles) - 1), ""},
				bookFigure{fmt.Sprintf("%s mm, %s: widest space, m", size, word), fmt.Sprintf("%.3f", (s.LengthMM-450)/spaces/1000), widest / 1000, ""},
				bookFigure{fmt.Sprintf("%s mm, %s: first saddle, mm", size, word), "225", s.Saddles[0].At, ""})
		}
	}
	at := route.SaddlesOn(nil, sum.Term{Symbol: "S", Value: 9000, Unit: "mm"}, sum.Term{Value: 225, Unit: "mm"}, sum.Term{Value: 1.5, Unit: "m"})
	return append(out, bookFigure{"9 m: saddles", "7", float64(len(at)), ""}, bookFigure{"9 m: spaces", "6", float64(len(at) - 1), ""},
		bookFigure{"9 m: in spaces", "5.7", (9.0 - 2*0.225) / 1.5, ""})
}

func hoursAMetre(t *testing.T) (out []bookFigure) {
	for csa, h := range map[string]string{"2.5": "0.03", "6": "0.04", "25": "0.05", "35": "0.06", "95": "0.09"} {
		items := []route.Item{{Group: "cable", Name: csa, Unit: "m", Net: 100, Gross: 100}}
		out = append(out, bookFigure{csa + " mm², h a metre", h, estimate(t, items, prices(t, csa+",m,,"+h+" h"), route.Terms{}).Hours / 100, ""})
	}
	items := []route.Item{{Group: "cable", Name: "a", Unit: "m", Net: 60, Gross: 66}, {Group: "cable", Name: "b", Unit: "m", Net: 25, Gross: 27.5}}
	e := estimate(t, items, prices(t, "a,m,,0.03 h", "b,m,,0.04 h"), route.Terms{})
	return append(out, bookFigure{"60 m and 25 m, h (the page prints no total)", "2.8", e.Hours, ""})
}

func lightingPoint(t *testing.T) (out []bookFigure) {
	book := []struct{ item, qty, rate, amount string }{{"1 mm²", "28", "23", "644"}, {"2.5 mm² earth", "10", "69", "690"}, {"20 mm conduit", "10", "37", "370"},
		{"bend", "2", "21", "42"}, {"junction box", "1", "23", "23"}, {"switch", "1", "147", "147"}, {"sunk box", "1", "63", "63"}}
	var items []route.Item
	var lines []string
	for i, b := range book {
		n, _ := strconv.ParseFloat(b.qty, 64)
		items = append(items, route.Item{Group: "point", Name: b.item, Unit: "each", Net: n, Gross: n})
		minutes := ""
		if i == len(book)-1 {
			minutes = "144" // 0.3 day of 8 h, electrician and labourer at 1050 + 750 a day
		}
		lines = append(lines, b.item+",each,"+b.rate+","+minutes)
	}
	e := estimate(t, items, prices(t, lines...), route.Terms{Rate: given((1050 + 750) / 8.0), Sundries: given(0.09)})
	for i, b := range book {
		out = append(out, bookFigure{b.item, b.amount, e.Lines[i].Cost, ""})
	}
	return append(out, bookFigure{"material", "1979", e.Material, ""}, bookFigure{"sundries", "178.11", e.Sundries, ""}, bookFigure{"rate", "2697.11", e.Total, ""})
}

func fromALadder(t *testing.T) (out []bookFigure) {
	for ft, percent := range map[int]string{12: "3", 13: "5", 14: "8", 15: "10", 16: "13", 17: "16", 18: "19", 19: "22", 20: "25"} {
		items := []route.Item{{Group: "g", Name: "x", Unit: "each", Net: 100, Gross: 100, Runs: []string{"high"}, Shares: []float64{100}}}
		terms := route.Terms{Rate: given(1)}
		terms.High.Height.V, terms.High.Height.At.Line = units.Metres(float64(ft)*foot), 1
		terms.High.Runs = []route.Given[int]{{}}
		e := estimate(t, items, prices(t, "x,each,,60"), terms)
		out = append(out, bookFigure{fmt.Sprintf("%d ft, per cent added", ft), percent, e.Labour - 100, ""})
	}
	if _, err := us.HighWork(2); err == nil {
		t.Error("an addition below 12 ft")
	}
	return out
}

func tubeAndWire(t *testing.T) []bookFigure {
	const m = 304.8 // 1000 ft
	items := []route.Item{{Group: "conduit", Name: "tube", Unit: "m", Net: m, Gross: m}, {Group: "cable", Name: "wire", Unit: "m", Net: m, Gross: m}}
	e := estimate(t, items, prices(t, "tube,100 ft,45,4.5 h per 100 ft", "wire,1000 ft,120,6 h per 1000 ft"), route.Terms{})
	return []bookFigure{{"tube, h per 100 ft", "4.5", e.Lines[0].Hours / 10, ""}, {"wire, h per 1000 ft", "6", e.Lines[1].Hours, ""},
		{"tube, per 100 ft", "45", e.Lines[0].Cost / 10, ""}, {"wire, per 1000 ft", "120", e.Lines[1].Cost, ""},
		{"tube, min a metre", "8.9", e.Lines[0].Minutes, ""}, {"wire, min a metre", "1.18", e.Lines[1].Minutes, ""}}
}
