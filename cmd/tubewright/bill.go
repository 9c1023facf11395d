package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tubewright/factors/units"
	"tubewright/fill"
	"tubewright/render"
	"tubewright/route"
)

// billFlags are the command line of bill.
type billFlags struct {
	out, prices                      string
	csv, json, instead               bool
	rate, sundries, overhead, profit string
	currency                         string
}

func billCommand() *cobra.Command {
	var f billFlags
	c := &cobra.Command{
		Use:   "bill [JOB]",
		Short: "Count the material of a job and price it",
		Long: `bill counts conduit and trunking in stock lengths, boxes, fittings, entries,
saddles, the board that the job describes, accessories, and cable by size and
colour, and says by which rule each item was counted. Drawn runs are ordered by
the cut list (command cut), others by the allowance for waste. With a
price list it adds amounts, hours and the sum to a total; an item without a
price is named, never taken as nothing.

The price list is CSV: item,unit,price,minutes (and note). The item is named as
in the bill; a single may leave out its colour. The unit says what the price
buys: each, 100, 1000, m, 100 m, ft, 100 ft, length, reel. Minutes are for one
piece, or one metre where the unit is m; beside another unit they say what they
are for: 9 per m, 34 per length, 4.5 h per 100 ft. An empty price or time is not
given. Lines that the job does not need are passed over; one that is
nearly the name of an item without a price is named beside it.

A run that cannot be made as drawn is named above the bill, with how it was
counted. Where checks fail, or are open so that a size is not settled, the bill
says so at the top and names them. The bill is written all the same; the exit
code is 1 where a run cannot be made, as cut and setout have it, or a check
fails.

Sundries, overhead, profit and the labour rate are nothing unless the job
(estimate: {labour rate: 38, sundries: 5 %}) or a flag says so; a flag wins, and
needs --prices or a workbook to fill in.
--out writes by the ending of the file: .xlsx with live formulas, .csv, .json,
or text.`,
		Example: `  tubewright bill job.yaml
  tubewright bill job.yaml --prices prices.csv --labour-rate 38 --out job.xlsx
  tubewright bill job.yaml --prices prices.csv --instead`,
		Args: atMost(1, "one job file"),
		RunE: func(c *cobra.Command, args []string) error { return bill(c, args, f) },
	}
	c.Flags().StringVarP(&f.out, "out", "o", "-", "file to write, .xlsx, .csv, .json or text; - is standard output")
	c.Flags().StringVar(&f.prices, "prices", "", "price list to price the bill with, a CSV file")
	c.Flags().BoolVar(&f.csv, "csv", false, "write CSV for a spreadsheet")
	c.Flags().BoolVar(&f.json, "json", false, "write JSON")
	c.Flags().BoolVar(&f.instead, "instead", false, "also say what plastic, steel or the next size up would change")
	c.Flags().StringVar(&f.rate, "labour-rate", "", "money an hour")
	c.Flags().StringVar(&f.sundries, "sundries", "", `share of material, such as "5 %"`)
	c.Flags().StringVar(&f.overhead, "overhead", "", "share of material, sundries and labour")
	c.Flags().StringVar(&f.profit, "profit", "", "share of all that and overhead")
	c.Flags().StringVar(&f.currency, "currency", "", "what amounts are in")
	return c
}

func bill(c *cobra.Command, args []string, f billFlags) error {
	kind, err := f.kind()
	if err != nil {
		return err
	}
	var terms route.Terms
	if err := errors.Join(f.terms(&terms), f.idle(kind)); err != nil {
		return usageError{err}
	}
	j, err := readJob(c, args)
	if err != nil {
		return err
	}
	_ = f.terms(&j.Terms)
	b := render.PricedBill{Job: j, Items: j.Bill(), Report: fill.Verdicts(j)}
	list, err := priceList(f.prices)
	if err != nil {
		return err
	}
	if list != nil {
		if b.Estimate, err = j.Price(list); err != nil {
			return err
		}
	}
	if f.instead {
		if b.Instead, err = fill.WhatIf(j, list); err != nil {
			return err
		}
	}
	err = writeTo(c, f.out, func(w io.Writer) error { return writeBill(w, kind, b) })
	if err == nil && len(render.Unmade(j)) > 0 {
		err = errFails
	}
	return verdict(err, b.Report.Verdict())
}

func writeBill(w io.Writer, kind string, b render.PricedBill) error {
	switch {
	case kind == ".xlsx":
		return render.WriteBillXLSX(w, b)
	case kind == ".json":
		return render.WriteBillJSON(w, b)
	case kind == ".csv":
		return render.WriteBillCSV(w, b)
	}
	return render.WriteEstimate(w, b)
}

// kind is the format to write: that of the flags or of the file's ending.
func (f billFlags) kind() (string, error) {
	ending := strings.ToLower(filepath.Ext(f.out))
	switch {
	case f.csv && f.json:
		return "", usageError{errors.New("either --csv or --json, not both")}
	case ending == ".xlsx" && (f.csv || f.json):
		return "", usageError{fmt.Errorf("%s is a workbook: leave out --csv and --json", f.out)}
	case f.csv:
		ending = ".csv"
	case f.json:
		ending = ".json"
	case !slices.Contains([]string{"", "-", ".xlsx", ".csv", ".json", ".txt", ".text", ".md"}, ending):
		return "", usageError{fmt.Errorf("a bill is not written as %s; .xlsx, .csv, .json or .txt", ending)}
	}
	return ending, nil
}

// terms puts what the flags say over what the job says.
func (f billFlags) terms(t *route.Terms) error {
	var wrong []error
	set := func(flag, text string, to *route.Given[float64], parse func(string) (float64, error)) {
		if text == "" {
			return
		}
		v, err := parse(text)
		if err == nil && v < 0 {
			err = errors.New("below 0")
		}
		if err != nil {
			wrong = append(wrong, fmt.Errorf("--%s %q: %w", flag, text, err))
			return
		}
		to.V = v
	}
	set("labour-rate", f.rate, &t.Rate, route.ParseMoney)
	set("sundries", f.sundries, &t.Sundries, units.ParseShare)
	set("overhead", f.overhead, &t.Overhead, units.ParseShare)
	set("profit", f.profit, &t.Profit, units.ParseShare)
	if f.currency != "" {
		t.Currency = f.currency
	}
	return errors.Join(wrong...)
}

// idle complains about terms of a price that nothing is priced with: a workbook
// takes them without a list, for the prices that are put in by hand.
func (f billFlags) idle(kind string) error {
	if f.prices != "" || kind == ".xlsx" {
		return nil
	}
	var wrong []error
	for _, given := range []struct{ flag, text string }{{"labour-rate", f.rate}, {"sundries", f.sundries}, {"overhead", f.overhead}, {"profit", f.profit}, {"currency", f.currency}} {
		if given.text != "" {
			wrong = append(wrong, fmt.Errorf("--%s does nothing without a price list: add --prices FILE", given.flag))
		}
	}
	return errors.Join(wrong...)
}

// priceList reads the file of that name, nil where none is named.
func priceList(name string) (*route.PriceList, error) {
	if name == "" {
		return nil, nil
	}
	text, err := fileText(name)
	if err != nil {
		return nil, err
	}
	return route.ParsePrices(name, text)
}
