package fill

import (
	"errors"
	"fmt"
	"slices"

	"tubewright/factors"
	"tubewright/factors/source"
	"tubewright/factors/sum"
	"tubewright/factors/uk"
	"tubewright/factors/units"
	"tubewright/route"
)

// Instead is the job with another enclosure put in: what check then says and
// what it then costs.
type Instead struct {
	What       string   // "all conduit in plastic"
	Reason     string   // why it cannot be had; the rest is empty then
	Verdict    Verdict  // of the whole job
	Fails      []string // what then fails that did not: "space, run A"
	Heals      []string // what failed and then does not
	Estimate   *route.Estimate
	Difference float64 // of the totals, with a price list
	Compared   bool    // both leave out the same for want of a price
}

// WhatIf runs the job again with each substitution that changes something:
// conduit and trunking in the other material, conduit the next size up. list
// may be nil: then nothing is priced.
//
// Cost: that of reading and checking the job, for each substitution.
func WhatIf(j *route.Job, list *route.PriceList) ([]Instead, error) {
	now := failures(Verdicts(j))
	var cost *route.Estimate
	if list != nil {
		var err error
		if cost, err = j.Price(list); err != nil {
			return nil, err
		}
	}
	var out []Instead
	for _, s := range substitutions {
		in, err := s.try(j, now, cost, list)
		if err != nil {
			return nil, err
		}
		if in != nil {
			out = append(out, *in)
		}
	}
	return out, nil
}

type substitution struct {
	what string
	kind factors.Kind
	with func(j *route.Job, e factors.Enclosure) factors.Enclosure
}

var substitutions = []substitution{
	{"all conduit in plastic", factors.Conduit, inMaterial(factors.Plastic)},
	{"all conduit in steel", factors.Conduit, inMaterial(factors.Steel)},
	{"all conduit the next size up", factors.Conduit, nextSize},
	{"all trunking in plastic", factors.Trunking, inMaterial(factors.Plastic)},
	{"all trunking in steel", factors.Trunking, inMaterial(factors.Steel)},
}

func inMaterial(m factors.Material) func(*route.Job, factors.Enclosure) factors.Enclosure {
	return func(_ *route.Job, e factors.Enclosure) factors.Enclosure {
		e.Material = m
		return e
	}
}

// nextSize is the next conduit that the tables have and the merchant stocks;
// the largest stays.
func nextSize(j *route.Job, e factors.Enclosure) factors.Enclosure {
	for _, s := range uk.ConduitSizes(e.Material) {
		if s > e.Size && (len(j.Stock.Conduit) == 0 || slices.Contains(j.Stock.Conduit, s)) {
			e.Size = s
			return e
		}
	}
	return e
}

// try puts a substitution in; nil where it changes nothing.
func (s substitution) try(j *route.Job, now []string, cost *route.Estimate, list *route.PriceList) (*Instead, error) {
	changed, missing := false, ""
	other := func(e factors.Enclosure) factors.Enclosure {
		if e.Kind != s.kind {
			return e
		}
		to := s.with(j, e)
		if to != e && !tabulated(to) {
			missing = to.String()
			return e
		}
		changed = changed || to != e
		return to
	}
	instead, err := j.With(other)
	in := &Instead{What: s.what}
	var problems source.Problems
	switch {
	case missing != "":
		in.Reason = "no table has " + missing
		return in, nil
	case !changed && err == nil:
		return nil, nil
	case errors.As(err, &problems):
		in.Reason = fmt.Sprintf("the job cannot be read so: %s", problems[0].What)
		return in, nil
	case err != nil:
		return nil, err
	}
	r := Verdicts(instead)
	then := failures(r)
	in.Verdict = r.Verdict()
	in.Fails, in.Heals = without(then, now), without(now, then)
	if list == nil {
		return in, nil
	}
	if in.Estimate, err = instead.Price(list); err != nil {
		return nil, err
	}
	in.Compared = in.Estimate.SameGaps(cost)
	in.Difference = sum.Cents(sum.Sub(sum.N(in.Estimate.Total), sum.N(cost.Total))).Eval()
	return in, nil
}

func tabulated(e factors.Enclosure) bool {
	if e.Kind == factors.Trunking {
		_, err := uk.TrunkingFactor(e)
		return err == nil
	}
	return slices.Contains(uk.ConduitSizes(e.Material), units.Millimetres(e.Size))
}

// failures names the findings that fail.
func failures(r *Report) []string {
	var out []string
	for i := range r.Findings {
		if f := &r.Findings[i]; f.Verdict == Fail {
			out = append(out, f.Check+", "+f.Subject)
		}
	}
	return out
}

// without returns what is in a and not in b.
func without(a, b []string) []string {
	in := make(map[string]bool, len(b))
	for _, s := range b {
		in[s] = true
	}
	var out []string
	for _, s := range a {
		if !in[s] {
			out = append(out, s)
		}
	}
	return out
}
