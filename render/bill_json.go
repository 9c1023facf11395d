package render

import (
	"io"

	"tubewright/fill"
	"tubewright/route"
)

type itemJSON struct {
	Group    string     `json:"group"`
	Item     string     `json:"item"`
	Unit     string     `json:"unit"`
	Net      float64    `json:"net"`
	Gross    float64    `json:"gross"`
	Order    string     `json:"order"`
	AtHand   float64    `json:"offcuts_at_hand_m"`       // cut up before new lengths
	Over     *float64   `json:"gross_over_net_percent"`  // null where nothing is bought by length, or less than net
	Lost     *float64   `json:"lost_by_cutting_percent"` // of what is cut up; null without a cut list
	Kept     *float64   `json:"kept_offcuts_m"`          // likewise
	Runs     []string   `json:"runs"`
	Shares   []float64  `json:"shares"` // of net, run by run
	Counting string     `json:"counting"`
	Price    *priceJSON `json:"price,omitempty"`
}

type priceJSON struct {
	Quantity *float64 `json:"quantity"` // null: not priced
	Price    *float64 `json:"price"`
	For      string   `json:"for"`
	Amount   *float64 `json:"amount"`
	Minutes  *float64 `json:"minutes"`
	Each     string   `json:"minutes_for"`   // m or each, "" where there are none
	Times    *float64 `json:"minutes_times"` // the net quantity that they are for
	Hours    *float64 `json:"hours"`
}

type estimateJSON struct {
	Currency string      `json:"currency"`
	Groups   []groupJSON `json:"groups"`
	Material float64     `json:"material"`
	Sundries float64     `json:"sundries"`
	Hours    float64     `json:"hours"`
	Labour   float64     `json:"labour"`
	Overhead float64     `json:"overhead"`
	Profit   float64     `json:"profit"`
	Total    float64     `json:"total"`
	Unpriced []string    `json:"unpriced"`
	Untimed  []string    `json:"untimed"`
	Steps    []string    `json:"steps"`
}

type groupJSON struct {
	Group  string   `json:"group"`
	Amount *float64 `json:"amount"` // null: none of it priced
	Hours  *float64 `json:"hours"`  // null: none of it timed
}

type insteadJSON struct {
	With       string   `json:"with"`
	Reason     string   `json:"reason,omitempty"`
	Verdict    *string  `json:"verdict"`
	Fails      []string `json:"then_fails"`
	Heals      []string `json:"no_longer_fails"`
	Total      *float64 `json:"total"` // null: not all priced, or no price list
	Difference *float64 `json:"difference"`
}

type billJSON struct {
	Job      string        `json:"job"`
	Verdict  *string       `json:"verdict"` // of all checks, fail where a run cannot be made; null: not judged
	Notes    []string      `json:"notes"`   // of the checks that fail or are open
	Fails    []string      `json:"checks_failed"`
	Open     []string      `json:"checks_open"` // that leave a size unsettled
	Unmade   []string      `json:"cannot_be_made_as_drawn"`
	Items    []itemJSON    `json:"items"`
	Estimate *estimateJSON `json:"estimate,omitempty"`
	Existing []string      `json:"existing_runs"`
	Without  []string      `json:"not_counted"`
	Instead  []insteadJSON `json:"instead,omitempty"`
	Cautions []string      `json:"cautions"`
}

// WriteBillJSON writes the bill with the rule behind each item and, with a
// price list, every amount and the sum; what is not given is null.
func WriteBillJSON(w io.Writer, b PricedBill) error {
	out := billJSON{Job: b.Job.Name, Notes: list(checkNotes(b.Report, "bill")), Fails: b.failed(), Open: b.unsettled(), Items: []itemJSON{}, Unmade: list(unmadeNotes(b.Job)), Without: notCounted(b.Job, b.Items), Existing: list(existing(b.Job)), Cautions: Cautions}
	if b.Report != nil || len(out.Unmade) > 0 {
		worst := fill.Fail
		if len(out.Unmade) == 0 {
			worst = b.Report.Verdict()
		}
		verdict := worst.String()
		out.Verdict = &verdict
	}
	for _, it := range b.Items {
		one := itemJSON{Group: it.Group, Item: it.Name, Unit: it.Unit, Net: it.Net, Gross: it.Gross, Order: it.Order, AtHand: it.AtHand, Runs: list(it.Runs), Shares: list(it.Shares), Counting: it.Rule}
		if over, ok := it.OverNet(); ok {
			one.Over = number(round3(over * 100))
		}
		if it.Cut {
			one.Lost, one.Kept = number(round3(it.Lost*100)), number(it.Kept)
		}
		out.Items = append(out.Items, one)
	}
	if e := b.Estimate; e != nil {
		for i := range e.Lines {
			out.Items[i].Price = pricesJSON(&e.Lines[i])
		}
		out.Estimate = estimateOf(e)
	}
	for i := range b.Instead {
		out.Instead = append(out.Instead, insteadOf(&b.Instead[i]))
	}
	return writeJSON(w, out)
}

// list is s as JSON shows it: an empty list, not null.
func list[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}

func pricesJSON(l *route.PricedItem) *priceJSON {
	p := &priceJSON{}
	if l.Priced {
		p.Quantity, p.Price, p.For, p.Amount = number(l.Quantity), number(l.Price.Price.V), l.Price.Per.Text, number(l.Cost)
	}
	if l.Timed {
		p.Minutes, p.Each, p.Times, p.Hours = number(l.Minutes), l.Unit, number(l.Net), number(l.Hours)
	}
	return p
}

func estimateOf(e *route.Estimate) *estimateJSON {
	out := &estimateJSON{Currency: e.Terms.Currency, Groups: []groupJSON{}, Material: e.Material, Sundries: e.Sundries, Hours: *number(e.Hours), Labour: e.Labour,
		Overhead: e.Overhead, Profit: e.Profit, Total: e.Total, Unpriced: list(e.Unpriced), Untimed: list(e.Untimed), Steps: stepTexts(e.Steps)}
	for _, g := range e.Groups {
		one := groupJSON{Group: g.Group}
		if g.Timed {
			one.Hours = number(g.Hours)
		}
		if g.Priced {
			one.Amount = number(g.Cost)
		}
		out.Groups = append(out.Groups, one)
	}
	return out
}

func insteadOf(in *fill.Instead) insteadJSON {
	out := insteadJSON{With: in.What, Reason: in.Reason, Fails: list(in.Fails), Heals: list(in.Heals)}
	if in.Reason == "" {
		v := in.Verdict.String()
		out.Verdict = &v
	}
	if in.Compared {
		out.Total, out.Difference = number(in.Estimate.Total), number(in.Difference)
	}
	return out
}
