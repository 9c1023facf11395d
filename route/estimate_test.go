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
		if e.Steps[len(e.Steps)-1].Value != e.Total || sum.AtMost(e.Total, 0) != (name == "existing") { // of which nothing is bought
			t.Errorf("%s: the last step is not the total", name)
		}
	}
}
