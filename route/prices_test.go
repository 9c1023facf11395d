package route_test

import (
	"errors"
	"os"
	"strings"
	"testing"

	"tubewright/factors/source"
	"tubewright/factors/units"
	"tubewright/route"
)

func demoJob(t testing.TB, path string) *route.Job {
	t.Helper()
	job, err := parseFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return job
}

// TestBadPrices: every slip of a price list is named at its place, all at
// once.
func TestBadPrices(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"empty":          {"", []string{"prices.csv: the file is empty"}},
		"column":         {"item,unt,price\n", []string{`:1:6: no column is called "unt"`, "did you mean unit?"}},
		"semicolons":     {"item;unit;price\n", []string{":1:1: no column is called", "set apart by commas"}},
		"lacks a column": {"item,price\n", []string{":1:1: no column unit"}},
		"all at once": {"item,unit,price,minutes\nbox,each,-2,3\nlid,dozen,4,x\n\"bush, male\",lengt,3 GBP,1\n",
			[]string{":2:10: a price below 0", `:3:5: nothing is sold by "dozen"`, ":3:13: no number here", `:4:14: nothing is sold by "lengt"`, "did you mean length?", `:4:22: "GBP" after a price`}},
		"twice":          {"item,unit,price\nbox,each,2\nBox ,each,3\n", []string{`:3:1: "Box" is priced twice (first priced at line 2)`}},
		"decimal comma":  {"item,unit,price,minutes\nbox,each,2,50,3\n", []string{":2:15: 5 fields, the first line has 4", "a decimal point"}},
		"quoted comma":   {"item,unit,price\nbox,each,\"2,50\"\n", []string{":2:12: a comma inside a number", "write a point"}},
		"thousands":      {"item,unit,price\nbox,each,\"1,200.50\"\n", []string{":2:12: a comma inside a number", "leave the comma out: 1200.50"}},
		"millions":       {"item,unit,price\nbox,each,\"1,200,500\"\n", []string{":2:12: a comma inside a number", "leave the comma out: 1200500"}},
		"either comma":   {"item,unit,price\nbox,each,\"1,200\"\n", []string{"leave the comma out: 1200; or, if it marks the decimals, write a point: 1.200"}},
		"currency sign":  {"item,unit,price\nbox,each,£12.60\nlid,each,€ 3\nbar,each,\"$1,200.50\"\n", []string{":2:10: a currency sign before the price", "leave the sign out: 12.60", ":3:10: a currency sign", "leave the sign out: 3", ":4:11: a currency sign", "leave the sign out: 1200.50"}},
		"open quote":     {"item,unit,price\nbox 2\" deep,each,2\nlid,each,x\n", []string{":2:6: a quote that does not pair", ":3:10: no number here"}},
		"letters before": {"item,unit,price\n4 mm² single,rell,2\n", []string{`:2:14: nothing is sold by "rell"`, "did you mean reel?"}},
		"not UTF-8":      {"item,unit,price\n\xff,each,2\n", []string{"not UTF-8"}},
		"other words":    {"item,unit,price\nsteel conduit 20 mm,m,2\nbox,each,1\n20mm Conduit Steel,m,3\n", []string{`:4:1: "20mm Conduit Steel" is "steel conduit 20 mm" in other words or another order, priced twice (first priced at line 2)`}},
		"time of a length": {"item,unit,price,minutes\ntube,length,9,12\nwire,reel,9,0.5\nbar,100 m,9,12\nrod,ft,1,2\n",
			[]string{`:2:15: 12 for a metre or for a length?`, `"12 per m" or "12 per length"`, `"0.5 per m" or "0.5 per reel"`, `:4:13: `, `"12 per m" or "12 per 100 m"`, `"2 per m" or "2 per ft"`}},
		"time without a unit of time": {"minutes,unit,item,price\n12 min,length,tube,9\n0.2 h,per reel,wire,9\n", []string{`:2:1: 12 min for a metre or for a length?`, `"12 min per m" or "12 min per length"`, `:3:1: 0.2 h for a metre or for a reel?`}},
		"time":                        {"item,unit,price,minutes\nbox,each,2,3 days\n", []string{`:2:14: "days" is no time`}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := route.ParsePrices("prices.csv", []byte(c.text))
			if !errors.Is(err, route.ErrPrices) {
				t.Fatalf("%v", err)
			}
			for _, w := range c.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("lacks %q:\n%v", w, err)
				}
			}
		})
	}
}

// A price by a unit that its item is not counted in is a problem of the list.
func TestPriceOfAnotherMeasure(t *testing.T) {
	list := prices(t, "steel conduit 20 mm,100,11,2", "1.5 mm² stranded single,length,20,", "screw and plug,m,1,1", "male brass bush 20 mm,100,60,2 per length")
	_, err := demoJob(t, "../testdata/jobs/boatstore.yaml").Price(list)
	var problems source.Problems
	if !errors.As(err, &problems) || !errors.Is(err, route.ErrPrices) {
		t.Fatalf("%v", err)
	}
	for _, want := range []string{":2:21: steel conduit 20 mm is counted in metres, not by 100", ":3:25: ", ":4:16: screw and plug is counted in pieces", ":5:30: "} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("lacks %q:\n%v", want, err)
		}
	}
}

// An item without a price is named with the line that looks like it, and is
// not nothing.
func TestNotPriced(t *testing.T) {
	list := prices(t, "steel conduit 20 mm,length,11,", "male bras bush 20 mm,100,60,")
	e, err := demoJob(t, "../testdata/jobs/boatstore.yaml").Price(list)
	if err != nil {
		t.Fatal(err)
	}
	text := strings.Join(e.Unpriced, "\n")
	if !strings.Contains(text, `male brass bush 20 mm (line 3 of prices.csv has "male bras bush 20 mm")`) {
		t.Errorf("no hint:\n%s", text)
	}
	if strings.Contains(text, "male brass bush 25 mm (") {
		t.Errorf("20 mm is no slip for 25 mm:\n%s", text)
	}
	buy := 0
	for _, l := range e.Lines {
		if !l.Labour {
			buy++
		}
	}
	if len(e.Unpriced) != buy-1 || e.Material != 55 {
		t.Errorf("%d of %d not priced, material %v; one is, 5 lengths at 11", len(e.Unpriced), buy, e.Material)
	}
}

func FuzzPrices(f *testing.F) {
	f.Add([]byte("item,unit,price,minutes\nsteel conduit 20 mm,length,11.40,9 per m\n\"x, y\",100,5,2 per 100\n"))
	f.Add([]byte("\ufeffitem;unit\n\"\"\"\n"))
	f.Add([]byte("unit,item,price,note\n100 ft,a\tb,,\n#c\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		list, err := route.ParsePrices("p.csv", text)
		if err != nil {
			var problems source.Problems
			if !errors.As(err, &problems) || list != nil || err.Error() == "" {
				t.Fatalf("%v", err)
			}
			return
		}
		for _, p := range list.Prices {
			if p.Per.Count <= 0 || p.Price.V < 0 || list.Find("", p.Item) == nil {
				t.Fatalf("%+v", p)
			}
		}
		if _, err := route.NewEstimate([]route.Item{{Group: "cable", Name: "x, y", Unit: "m", Net: 3, Gross: 3, Pack: 100, Packs: 1}}, list, route.Terms{}, nil); err != nil && !errors.Is(err, route.ErrPrices) {
			t.Fatal(err)
		}
	})
}

func FuzzPer(f *testing.F) {
	for _, s := range []string{"each", "per 100", "1000", "100 ft", "m", "reel", "", "-1", "per "} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		p, err := route.ParsePer(s)
		if err == nil {
			again, err := route.ParsePer(p.Text)
			if err != nil || again != p {
				t.Fatalf("%q reads as %+v, that as %+v, %v", s, p, again, err)
			}
			return
		}
		if _, ok := err.(*units.Error); !ok {
			t.Fatal(err)
		}
	})
}

func parseFile(path string) (*route.Job, error) {
	text, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return route.Parse(path, text)
}

// TestNearestName: a line is near an item where it must mean it; an article of
// another kind is not, however its name is spelt.
func TestNearestName(t *testing.T) {
	for item, lines := range map[string]map[string]bool{
		"stop end, steel trunking 50x50":              {"flat bend, steel trunking 50x50": false, "stop end steel trunking 50x50": true, "stop-end, steel trunking 50x50": false, "stop end, steel trunking 50x5": true, "stop end, steel trunking 100x50": false, "stop end, steel trunking 5x5": false},
		"trunking fixing point, steel trunking 75x50": {"trunking fixing point": true, "trunking": false, "trunking fixing point, steel trunking 100x50": false},
		"stop end, steel trunking 75x50":              {"stop end, steel trunking 75x5": true, "stop end": true, "stop end, steel trunking 75x75": false},
		"lid fixing, steel trunking 50x50":            {"flat bend, steel trunking 50x50": false, "lid fixings, steel trunking 50x50": true},
		"tee box, steel conduit 20 mm":                {"set formed, steel conduit 20 mm": false, "bend formed, steel conduit 20 mm": false, "tee box, steel conduit 25 mm": false, "tee box, steel conduit 20mm": true},
		"solid elbow, steel conduit 20 mm":            {"Y box, steel conduit 20 mm": false, "solid elbow 20": true},
		"internal bend, steel trunking 50x50":         {"external bend, steel trunking 50x50": false, "internl bend, steel trunking 50x50": true},
		"male brass bush 20 mm":                       {"female brass bush 20 mm": false, "male bush 20": true},
		"coupler, steel conduit 20 mm":                {"steel conduit 20 mm": false, "expansion coupler, steel conduit 20 mm": false, "coupler steel conduit 20": true},
		"expansion coupler, plastic conduit 25 mm":    {"coupler, plastic conduit 25 mm": false},
		"steel conduit 20 mm":                         {"plastic conduit 20 mm": false, "coupler, steel conduit 20 mm": false, "steel conduit 20": true},
		"2.5 mm² stranded single, brown":              {"2.5 mm2 single": true, "1.5 mm2 single": false, "2.5 mm² twin and earth": false},
		"plate switch, one-gang, one-way":             {"plate switch, two-gang, one-way": false, "plate switch, one-gang": true},
		"luminaire":                                   {"emergency luminaire": false, "luminare": true},
	} {
		for line, near := range lines {
			list, err := route.ParsePrices("p.csv", []byte("item,unit,price\n\""+line+"\",each,1\n"))
			if err != nil {
				t.Fatal(err)
			}
			if got := list.Nearest(item) != nil; got != near {
				t.Errorf("%s for %s: near %t, want %t", line, item, got, near)
			}
		}
	}
}

// A line that is nearly an unpriced item, or unpaid work, is named beside it; one
// that the job does not need is passed over.
func TestNearMissIsNamed(t *testing.T) {
	j, err := route.Parse("j.yaml", []byte("job: j\nruns: {A: {in: steel conduit 20, length: 3 m, bends: 1}}\n"))
	if err != nil {
		t.Fatal(err)
	}
	e, err := j.Price(prices(t, "steel conduit 20mm,length,11,2 per m", "bend steel conduit 20 formed,each,,8", "widget,each,1,1", "\"flat bend, steel trunking 50x50\",each,1,1"))
	if err != nil {
		t.Fatal(err)
	}
	all := strings.Join(append(e.Unpriced, e.Untimed...), "\n")
	for _, want := range []string{`steel conduit 20 mm (line 2 of `, `has "steel conduit 20mm")`, `bend formed, steel conduit 20 mm (line 3 of `} {
		if !strings.Contains(all, want) {
			t.Errorf("lacks %q:\n%s", want, all)
		}
	}
	for _, not := range []string{"widget", "trunking"} {
		if strings.Contains(all, not) {
			t.Errorf("names %q:\n%s", not, all)
		}
	}
}

// A number alone is for what the item is counted in where the unit is that.
func TestTimesForOne(t *testing.T) {
	list := prices(t, "a,Each,1,9", "b,PER 100,1,9", "c,1000,1,9", "d,M,1,9", "e,Length,1,9 per m", "f,Reel,1,9 per Reel", "g,length,1,0", "h,length,1,")
	for _, p := range list.Prices {
		if p.Minutes.V != 9 && p.Item < "g" {
			t.Errorf("%+v", p)
		}
	}
}

// The demo list and the words of the bill must not be taken for each other.
func TestWordsAloneTellPricesApart(t *testing.T) {
	list := prices(t, "coupler,each,1,1", "\"coupler, steel conduit 20 mm\",each,1,1", "\"coupler, plastic conduit 20 mm\",each,1,1",
		"\"plate switch, two-gang, one-way\",each,1,1", "\"plate switch, one-gang, two-way\",each,1,1", "\"reducer, 25 to 20 mm\",each,1,1", "\"reducer, 32 to 20 mm\",each,1,1")
	if len(list.Prices) != 7 {
		t.Errorf("%d lines", len(list.Prices))
	}
}
