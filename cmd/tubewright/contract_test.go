package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
)

// The shapes of our JSON as other programs rely on it: a pointer may be null,
// everything else must be there. Keys beyond these are allowed.
type (
	checkContract struct {
		Job, Rules, Verdict *string
		Findings            []findingContract
		Cautions            []string
	}
	findingContract struct {
		Check, Subject, Verdict, Unit *string
		Value, Limit                  *float64
		Reason                        string
		Sources, Steps                []string
	}
	fitContract struct {
		Verdict, Unit, Method *string
		Value, Limit          *float64
		Reason                string
		More                  map[string]int
		Circuits              []struct{ Radials, Rings *int } `json:"more_circuits"`
		Sources, Cautions     []string
	}
	singlesContract struct {
		Singles []struct {
			Circuit, Function, Colour, Size, From, To *string
			Runs                                      []string
			LengthM                                   *float64 `json:"length_m"`
		}
		Runs []struct {
			Run    *string
			Count  *int
			BySize map[string]int `json:"by_size"`
		}
		Cautions []string
	}
	billContract struct {
		Job   *string
		Items []struct {
			Group, Item, Unit, Order, Counting *string
			Net, Gross                         *float64
			Runs                               []string
		}
		Cautions []string
	}
	keysContract struct {
		Parts []struct {
			Part, Where *string
			Keys        []struct{ Key, Takes, Means, Example *string }
		}
	}
	problemsContract struct {
		Problems []struct {
			File, What, Want *string
			Line, Column     *int
			Also             *struct {
				Line, Column *int
				What         *string
			}
		}
	}
	tablesContract struct {
		Rules  *string
		Tables []struct{ ID, Title, Standard, Provenance *string }
	}
	tableContract struct {
		ID, Title, Standard, Unit, Provenance, Checked *string
		Axes                                           []string
		Cells                                          []struct {
			Keys       []string
			Value      *float64
			Provenance *string
		}
	}
)

// keepsContract reads one JSON document and checks what is promised of it.
func keepsContract(kind string, text []byte) error {
	switch kind {
	case "check":
		return checkKeeps(text)
	case "findings":
		v, err := read[checkContract](text)
		return errors.Join(err, findingsKeep(v))
	case "fit":
		return fitKeeps(text)
	case "singles":
		return singlesKeeps(text)
	case "bill":
		return billKeeps(text)
	case "keys":
		return keysKeep(text)
	case "problems":
		return problemsKeep(text)
	case "tables":
		v, err := read[tablesContract](text)
		return errors.Join(err, asks("rules", v.Rules != nil), asks("tables", len(v.Tables) > 30))
	case "table":
		v, err := read[tableContract](text)
		err = errors.Join(err, asks("id, title, standard, unit, provenance, checked", all(v.ID, v.Title, v.Standard, v.Unit, v.Provenance, v.Checked)), asks("cells", len(v.Cells) > 0))
		for _, c := range v.Cells {
			err = errors.Join(err, asks("keys for each axis", len(c.Keys) == len(v.Axes)), asks("value and provenance", c.Value != nil && c.Provenance != nil))
		}
		return err
	}
	return fmt.Errorf("no contract for %q", kind)
}

// read decodes one document and nothing behind it.
func read[T any](text []byte) (v T, err error) {
	d := json.NewDecoder(strings.NewReader(string(text)))
	if err := d.Decode(&v); err != nil {
		return v, err
	}
	if _, err := d.Token(); err != io.EOF {
		return v, errors.New("something stands behind the document")
	}
	return v, nil
}

func asks(what string, holds bool) error {
	if holds {
		return nil
	}
	return errors.New("contract broken: " + what)
}

func all(texts ...*string) bool {
	return !slices.ContainsFunc(texts, func(s *string) bool { return s == nil || *s == "" })
}

var verdictWords = []string{"pass", "advise", "open", "fail"}

// gravest of verdicts, as the whole is judged by it.
func gravest(a, b string) string {
	return verdictWords[max(slices.Index(verdictWords, a), slices.Index(verdictWords, b))]
}

// tabled are the checks whose limit is a table's and not a figure of the job's.
var tabled = []string{"draw-in", "space", "temperature", "rating", "drop", "fault"}

func checkKeeps(text []byte) error {
	v, err := read[checkContract](text)
	if err != nil {
		return err
	}
	return errors.Join(asks("job, rules", all(v.Job, v.Rules)), findingsKeep(v))
}

// findingsKeep checks the findings of any command that judges.
func findingsKeep(v checkContract) error {
	err := errors.Join(asks("verdict", all(v.Verdict)), asks("findings", v.Findings != nil), asks("cautions", len(v.Cautions) > 0))
	worst := "pass"
	for i, f := range v.Findings {
		if !all(f.Check, f.Subject, f.Verdict) || f.Unit == nil || f.Sources == nil || len(f.Steps) == 0 {
			return fmt.Errorf("finding %d: check, subject, verdict, unit, sources, steps: one is missing", i)
		}
		name := *f.Check + ", " + *f.Subject + ": "
		err = errors.Join(err,
			asks(name+"verdict "+*f.Verdict, slices.Contains(verdictWords, *f.Verdict)),
			asks(name+"a source for what it is held against", *f.Verdict == "open" || len(f.Sources) > 0 || !slices.Contains(tabled, *f.Check)),
			asks(name+"a reason where it does not pass", *f.Verdict == "pass" || f.Reason != ""),
			asks(name+"passes only within its limit", *f.Verdict != "pass" || f.Value == nil || f.Limit == nil || *f.Value <= *f.Limit),
			asks(name+"a value and a limit where it passes by a table", *f.Verdict != "pass" || f.Value != nil && f.Limit != nil || !slices.Contains(tabled, *f.Check)))
		worst = gravest(worst, *f.Verdict)
	}
	return errors.Join(err, asks("verdict is the gravest finding, "+worst, v.Verdict != nil && *v.Verdict == worst))
}

func fitKeeps(text []byte) error {
	v, err := read[fitContract](text)
	if err != nil {
		return err
	}
	err = errors.Join(asks("verdict", v.Verdict != nil && slices.Contains(verdictWords, *v.Verdict)), asks("unit, method", v.Unit != nil && all(v.Method)),
		asks("more, more_circuits, sources", v.More != nil && v.Circuits != nil && v.Sources != nil), asks("cautions", len(v.Cautions) > 0))
	if err != nil {
		return err
	}
	for size := range v.More {
		if n, bad := strconv.ParseFloat(size, 64); bad != nil || n <= 0 {
			err = errors.Join(err, fmt.Errorf("more: %q is no size", size))
		}
	}
	if v.Limit == nil {
		return errors.Join(err, asks("without a limit: fail or open, a reason, nothing more", (*v.Verdict == "fail" || *v.Verdict == "open") && v.Reason != "" && len(v.More) == 0))
	}
	return errors.Join(err, asks("value beside a limit", v.Value != nil), asks("fail means value over limit", v.Value != nil && (*v.Verdict == "fail") == (*v.Value > *v.Limit)), asks("a limit has a source", len(v.Sources) > 0))
}

func keysKeep(text []byte) error {
	v, err := read[keysContract](text)
	err = errors.Join(err, asks("parts", len(v.Parts) > 0))
	for _, p := range v.Parts {
		err = errors.Join(err, asks("part, where, keys", all(p.Part, p.Where) && len(p.Keys) > 0))
		for _, k := range p.Keys {
			err = errors.Join(err, asks("key, takes, means, example", all(k.Key, k.Takes, k.Means, k.Example)))
		}
	}
	return err
}

func problemsKeep(text []byte) error {
	v, err := read[problemsContract](text)
	err = errors.Join(err, asks("problems", len(v.Problems) > 0))
	for _, p := range v.Problems {
		err = errors.Join(err, asks("file, what", all(p.File, p.What)), asks("want, line, column", p.Want != nil && p.Line != nil && p.Column != nil))
		if p.Also != nil {
			err = errors.Join(err, asks("line, column, what of also", p.Also.Line != nil && p.Also.Column != nil && all(p.Also.What)))
		}
	}
	return err
}

func singlesKeeps(text []byte) error {
	v, err := read[singlesContract](text)
	if err != nil {
		return err
	}
	err = errors.Join(asks("singles, runs", v.Singles != nil && v.Runs != nil), asks("cautions", len(v.Cautions) > 0))
	passed := map[string]int{}
	for i, s := range v.Singles {
		err = errors.Join(err, asks(fmt.Sprintf("single %d: circuit, function, colour, size, from, to", i), all(s.Circuit, s.Function, s.Colour, s.Size, s.From, s.To)),
			asks(fmt.Sprintf("single %d: runs, length_m", i), len(s.Runs) > 0 && s.LengthM != nil && *s.LengthM > 0))
		for _, r := range s.Runs {
			passed[r]++
		}
	}
	for i, r := range v.Runs {
		if r.Run == nil || r.Count == nil || r.BySize == nil {
			return fmt.Errorf("run %d: run, count, by_size: one is missing", i)
		}
		n := 0
		for _, k := range r.BySize {
			n += k
		}
		err = errors.Join(err, asks(fmt.Sprintf("run %s: by_size adds up to %d, count is %d", *r.Run, n, *r.Count), n == *r.Count),
			asks(fmt.Sprintf("run %s: %d singles pass, count is %d", *r.Run, passed[*r.Run], *r.Count), passed[*r.Run] <= *r.Count))
	}
	return err
}

func billKeeps(text []byte) error {
	v, err := read[billContract](text)
	if err != nil {
		return err
	}
	err = errors.Join(asks("job", v.Job != nil), asks("items", len(v.Items) > 0), asks("cautions", len(v.Cautions) > 0))
	for i, it := range v.Items {
		if !all(it.Group, it.Item, it.Unit, it.Order, it.Counting) || it.Net == nil || it.Gross == nil || it.Runs == nil {
			return fmt.Errorf("item %d: group, item, unit, net, gross, order, runs, counting: one is missing", i)
		}
		err = errors.Join(err, asks(*it.Item+": gross is at least net, net above nought", *it.Net > 0 && *it.Gross >= *it.Net))
	}
	return err
}
