package route_test

import (
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"tubewright/factors/sum"
	"tubewright/factors/units"
	"tubewright/factors/us"
	"tubewright/route"
)

func prices(t testing.TB, lines ...string) *route.PriceList {
	t.Helper()
	list, err := route.ParsePrices("prices.csv", []byte("item,unit,price,minutes\n"+strings.Join(lines, "\n")))
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func estimate(t testing.TB, items []route.Item, list *route.PriceList, terms route.Terms) *route.Estimate {
	t.Helper()
	e, err := route.NewEstimate(items, list, terms, map[string]bool{"high": true})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func given(v float64) route.Given[float64] { return route.Given[float64]{V: v} }

// Source: Construction man-hour norms, cabling and conduits (methvin.org),
// read: hours a metre for four singles and earth drawn in, 2.5 to 95 mm². The
// page prints no total; 60 m and 25 m come to 2.8 h.
func TestHoursPerMetre(t *testing.T) {
	norms := map[string]float64{"2.5": 0.03, "6": 0.04, "25": 0.05, "35": 0.06, "95": 0.09}
	for csa, h := range norms {
		items := []route.Item{{Group: "cable", Name: "set " + csa, Unit: "m", Net: 100, Gross: 100}}
		e := estimate(t, items, prices(t, fmt.Sprintf("set %s,m,,%g h", csa, h)), route.Terms{})
		if math.Abs(e.Hours-100*h) > 1e-9 {
			t.Errorf("%s mm², 100 m: %v h, published %v h/m", csa, e.Hours, h)
		}
	}
	items := []route.Item{{Group: "cable", Name: "set 2.5", Unit: "m", Net: 60, Gross: 66}, {Group: "cable", Name: "set 6", Unit: "m", Net: 25, Gross: 27.5}}
	e := estimate(t, items, prices(t, "set 2.5,m,,1.8", "set 6,m,,2.4"), route.Terms{})
	if e.Lines[0].Hours != 1.8 || e.Lines[1].Hours != 1 || e.Hours != 2.8 {
		t.Errorf("%v + %v = %v h, expected 1.8 + 1 = 2.8: time goes by the net length", e.Lines[0].Hours, e.Lines[1].Hours, e.Hours)
	}
}

// Source: BSR Electrical 2017 (Sri Lanka rate analysis), watertight lighting
// point, read whole: material 1979, sundries 9 % 178.11, rate 2697.11. Its
// labour is 0.3 day of an electrician at 1050 and of a labourer at 750: a
// gang at 1800 a day of 8 h, 225 an hour.
func TestLightingPoint(t *testing.T) {
	book := []struct {
		item              string
		qty, rate, amount float64
	}{{"1 mm²", 28, 23, 644}, {"2.5 mm² earth", 10, 69, 690}, {"20 mm conduit", 10, 37, 370}, {"bend", 2, 21, 42}, {"junction box", 1, 23, 23}, {"switch", 1, 147, 147}, {"sunk box", 1, 63, 63}}
	var items []route.Item
	var lines []string
	for _, b := range book {
		items = append(items, route.Item{Group: "point", Name: b.item, Unit: "each", Net: b.qty, Gross: b.qty})
		lines = append(lines, fmt.Sprintf("%s,each,%g,", b.item, b.rate))
	}
	lines[len(lines)-1] += fmt.Sprint(0.3 * 8 * 60)
	e := estimate(t, items, prices(t, lines...), route.Terms{Rate: given(225), Sundries: given(0.09)})
	for i, b := range book {
		if e.Lines[i].Cost != b.amount {
			t.Errorf("%s: %v, the book has %v", b.item, e.Lines[i].Cost, b.amount)
		}
	}
	if e.Material != 1979 || e.Sundries != 178.11 || e.Labour != 540 || e.Total != 2697.11 {
		t.Errorf("material %v, sundries %v, labour %v, rate %v; the book has 1979, 178.11, 540, 2697.11", e.Material, e.Sundries, e.Labour, e.Total)
	}
}

// Source: Mike Holt business newsletter, labour-unit adjustments (letter
// 2290), read: "apply to the hours of the high items only".
func TestHighWork(t *testing.T) {
	list := prices(t, "tube,m,0,6")
	items := []route.Item{{Group: "tube", Name: "tube", Unit: "m", Net: 30, Gross: 30, Runs: []string{"low", "high"}, Shares: []float64{20, 10}}}
	for ft, percent := range map[float64]float64{12: 3, 13: 5, 14: 8, 15: 10, 16: 13, 17: 16, 18: 19, 19: 22, 20: 25} {
		terms := route.Terms{Rate: given(100)}
		terms.High.Height.V, terms.High.Height.At.Line = units.Metres(ft*0.3048), 1
		terms.High.Runs = []route.Given[int]{{}}
		e := estimate(t, items, list, terms)
		if want := 100 * (3 + 1*percent/100); math.Abs(e.Labour-want) > 0.005 || e.HighHours != 1 {
			t.Errorf("%v ft: labour %v, expected %v: 3 h, 1 h of them %v %% more", ft, e.Labour, want, percent)
		}
	}
	if _, err := us.HighWork(2); err == nil {
		t.Error("no addition is published for 2 m")
	}
}

// Source: a course on estimating take-off, read: 1/2 in tube 4.5 h and 45 a
// 100 ft, wire 6 h and 120 a 1000 ft; 8.9 min/m of tube, 1.18 min/m of wire.
func TestUnitHours(t *testing.T) {
	list := prices(t, "tube,100 ft,45,4.5 h per 100 ft", "wire,1000 ft,120,6 h per 1000 ft")
	const m = 304.8 // 1000 ft
	items := []route.Item{{Group: "conduit", Name: "tube", Unit: "m", Net: m, Gross: m}, {Group: "cable", Name: "wire", Unit: "m", Net: m, Gross: m}}
	e := estimate(t, items, list, route.Terms{})
	if e.Lines[0].Cost != 450 || e.Lines[1].Cost != 120 || e.Lines[0].Hours != 45 || e.Lines[1].Hours != 6 {
		t.Errorf("%+v", e.Lines)
	}
	if a, b := e.Lines[0].Minutes, e.Lines[1].Minutes; fmt.Sprintf("%.1f %.2f", a, b) != "8.9 1.18" {
		t.Errorf("%v and %v min/m; recomputed 8.9 and 1.18", a, b)
	}
}

// One price said in three units is one price.
func TestPriceUnitsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cents := rapid.IntRange(1, 5000).Draw(t, "price each in cents")
		n := float64(rapid.IntRange(1, 3000).Draw(t, "quantity"))
		items := []route.Item{{Group: "fixings", Name: "x", Unit: "each", Net: n, Gross: n}}
		var costs []float64
		for unit, per := range map[string]int{"each": 1, "100": 100, "1000": 1000, "per 100": 100} {
			text := fmt.Sprintf("x,%s,%d.%02d,", unit, cents*per/100, cents*per%100)
			list, err := route.ParsePrices("p", []byte("item,unit,price,minutes\n"+text))
			if err != nil {
				t.Fatal(err)
			}
			e, err := route.NewEstimate(items, list, route.Terms{}, nil)
			if err != nil {
				t.Fatal(err)
			}
			costs = append(costs, e.Total)
		}
		for _, c := range costs {
			if c != costs[0] || math.Abs(c-n*float64(cents)/100) > 0.0051 {
				t.Fatalf("%v for %v at %v cents", costs, n, cents)
			}
		}
	})
}

// TestEstimateAddsUp adds a demo job's estimate up another way, and evaluates
// each printed step again.
func TestEstimateAddsUp(t *testing.T) {
	text, err := os.ReadFile("../testdata/prices/demo.csv")
	if err != nil {
		t.Fatal(err)
	}
	list, err := route.ParsePrices("demo.csv", text)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"boatstore", "workshop", "clubhouse", "classroom", "existing"} {
		job := demoJob(t, "../testdata/jobs/"+name+".yaml")
		job.Terms = route.Terms{Rate: given(36), Sundries: given(0.04), Overhead: given(0.08), Profit: given(0.06)}
		e, err := job.Price(list)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		cents := 0
		for _, l := range e.Lines {
			cents += int(math.Round(l.Cost * 100))
			if !l.Priced && l.Cost != 0 || l.Priced && l.Price == nil {
				t.Errorf("%s: %s costs %v", name, l.Name, l.Cost)
			}
		}
		if int(math.Round(e.Material*100)) != cents {
			t.Errorf("%s: material %v, the lines come to %d cents", name, e.Material, cents)
		}
		r := func(v float64) float64 { return math.Round(v*100) / 100 }
		S, L := r(e.Material*0.04), r(e.Hours*36)
		O := r((e.Material + S + L) * 0.08)
		if want := r(e.Material + S + L + O + r((e.Material+S+L+O)*0.06)); e.Total != want {
			t.Errorf("%s: total %v, by hand %v", name, e.Total, want)
		}
		for _, s := range e.Steps {
			if s.Symbol != "" && s.Expr.Eval() != s.Value {
				t.Errorf("%s: %s comes to %v", name, s, s.Expr.Eval())
			}
		}
		if e.Steps[len(e.Steps)-1].Value != e.Total || sum.AtMost(e.Total, 0) {
			t.Errorf("%s: the last step is not the total", name)
		}
	}
}
