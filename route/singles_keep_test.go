package route_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"tubewright/fill"
	"tubewright/route"

	"pgregory.net/rapid"
)

// steelLoop is a two-way light with two ways from the board to it. In the
// format %s is what the circuit says beside its group.
const steelLoop = `
job: two ways round
places: {board: {is: board}, sw1: {is: switch}, sw2: {is: switch}, l1: {is: light}}
runs:
  A: {from: board, to: sw1, in: steel conduit 20, length: 2.3 m, bends: 0}
  B: {from: sw1, to: sw2, in: steel conduit 20, length: 3 m, bends: 0}
  C: {from: sw2, to: l1, in: steel conduit 20, length: 3 m, bends: 0}
  D: {from: board, to: l1, in: %s, length: 4.7 m, bends: 0}
circuits:
  lights: {device: B6, cable: 1.5, arrangement: lighting, %s groups: [{switches: [sw1, sw2], lights: [l1]}]}
`

// TestKeepsTogether: in steel the neutral goes home beside the line, and the cpc
// lies with the live conductors, though another run is shorter; cores in each
// run counted by hand. A way that the job names stands, and in plastic the
// neutral's short cut harms no one.
func TestKeepsTogether(t *testing.T) {
	for _, tt := range []struct {
		name, enc, circuit, want string
	}{
		{"the neutral beside the line", "steel conduit 20", "", "A: L N E; B: N 2S E; C: N SL E; D: "},
		{"the way that the job names", "steel conduit 20", "via: [{from: board, to: l1, runs: [D]}],", "A: L E; B: 2S E; C: SL E; D: N"},
		{"the short cut in plastic, past steel", "plastic conduit 20", "", "A: L N E; B: N 2S E; C: N SL E; D: "},
		{"the cpc beside line and neutral", "steel conduit 20", "loop: at lights,", "A: ; B: L 2S E; C: L SL E; D: L N E"},
		{"a shared cpc", "steel conduit 20", "loop: at lights, cpc: shared,", "A: ; B: L 2S E; C: L SL E; D: L N E"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			j, err := route.Parse("x.yaml", fmt.Appendf(nil, steelLoop, tt.enc, tt.circuit))
			if err != nil {
				t.Fatal(err)
			}
			if got := coresText(j); got != tt.want {
				t.Errorf("%s, want %s", got, tt.want)
			}
		})
	}
}

// coresText lists the cores of each run.
func coresText(j *route.Job) string {
	short := map[route.Function]string{route.Line: "L", route.Neutral: "N", route.SwitchedLine: "SL", route.CPC: "E"}
	text := ""
	for i := range j.Runs {
		if i > 0 {
			text += "; "
		}
		text += j.Runs[i].Name + ":"
		n := map[string]int{}
		for _, c := range j.Cores(i) {
			word, ok := short[c.Function]
			if !ok {
				word = "S"
			}
			n[word] += c.Count
		}
		found := false
		for _, word := range []string{"L", "N", "SL", "S", "E"} {
			switch {
			case n[word] == 1:
				text += " " + word
			case n[word] > 1:
				text += fmt.Sprintf(" %d%s", n[word], word)
			}
			found = found || n[word] > 0
		}
		if !found {
			text += " "
		}
	}
	return text
}

// TestCPCWithLive: where no way is named, every protective conductor of a
// circuit lies in runs of its live conductors. Where these form no loop, every
// ferromagnetic run holds both, and currents cancel.
func TestCPCWithLive(t *testing.T) {
	looped := 0
	rapid.Check(t, func(t *rapid.T) {
		p := drawPlan(t, planRules{loops: 3, joints: true, circuits: 2, enc: mixedEnc, cpc: []string{"", "", "conduit"}, shortest: true})
		j := p.parse(t)
		found := togetherFindings(j)
		for c := range j.Circuits {
			live, ends := map[int]bool{}, map[int]bool{}
			for _, s := range j.Singles[j.Circuits[c].Singles[0]:j.Circuits[c].Singles[1]] {
				for _, pass := range s.Way {
					r := &j.Runs[pass.Run]
					if s.Live() {
						live[pass.Run], ends[r.From], ends[r.To] = true, true, true
					} else if !live[pass.Run] {
						t.Fatalf("%s: a cpc in run %s, and no live conductor\n%s", j.Circuits[c].Name, r.Name, p.text())
					}
				}
			}
			if len(live) >= len(ends) {
				looped++
				continue
			}
			if found[c].Verdict != fill.Pass {
				t.Fatalf("%s: %s\n%s", found[c].Subject, found[c].Reason, p.text())
			}
		}
	})
	if looped == 0 {
		t.Error("no live conductors in a loop: the draw is too tame")
	}
}

// TestRemediesMend: whatever is offered to circuits that do not keep together
// mends them, once it is written into the file.
func TestRemediesMend(t *testing.T) {
	mended, named, none := 0, 0, 0
	mends := func(t *rapid.T) {
		p := drawPlan(t, planRules{loops: 3, joints: true, circuits: 2, enc: mixedEnc, cpc: []string{"", "shared"}, lenders: true})
		j := p.drawVia(t, p.parse(t))
		r := fill.Check(j)
		r.Remedies()
		for _, f := range r.Findings {
			if f.Check != "together" || f.Verdict != fill.Fail {
				continue
			}
			if len(f.Instead) == 0 {
				none++
				continue
			}
			name := strings.TrimPrefix(f.Subject, "circuit ")
			text := p.mended(name, f.Instead[0])
			o, err := route.Parse("mended.yaml", []byte(text))
			if err != nil {
				t.Fatalf("%s: %v\n%s", f.Instead[0], err, text)
			}
			mended++
			if strings.HasPrefix(f.Instead[0], "via: ") {
				named++
			}
			for _, then := range togetherFindings(o) {
				if then.Subject == f.Subject && then.Verdict != fill.Pass {
					t.Fatalf("with %s: %s\n%s", f.Instead[0], then.Reason, text)
				}
			}
		}
	}
	for range 10 { // one run draws too few for the shares below
		rapid.Check(t, mends)
	}
	if named == 0 || none > mended/4 {
		t.Errorf("%d mended, %d by naming ways, %d not: the draw is too tame, or too little is found", mended, named, none)
	}
}

// mended is the plan's text with what a remedy says of a circuit.
func (p *plan) mended(name, remedy string) string {
	q := *p
	q.circuits = slices.Clone(p.circuits)
	ways := ""
	for i := range q.circuits {
		c := &q.circuits[i]
		if c.name != name {
			continue
		}
		if strings.HasPrefix(remedy, "no neutral from") {
			c.groups = slices.Clone(c.groups)
			for k := range c.groups {
				c.groups[k].lender = ""
			}
		}
		if _, after, ok := strings.Cut(remedy, "via: ["); ok {
			after, _, _ = strings.Cut(after, "] in circuit")
			c.via, ways = nil, "    via: ["+after+"]\n"
		} else if strings.Contains(remedy, "no via") {
			c.via = nil
		}
	}
	return strings.Replace(q.text(), "  "+name+":\n", "  "+name+":\n"+ways, 1)
}
