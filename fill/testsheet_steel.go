package fill

import (
	"slices"

	"tubewright/factors/sum"
	"tubewright/route"
)

// steelRuns are the runs of steel round a point's own cpc, and whether all of
// its way lies in steel. Where the steel is the cpc there is none beside it.
func (s *sheet) steelRuns(p *route.PointPath) (steel []route.Pass, all bool) {
	if len(p.Steel) > 0 {
		return nil, false
	}
	all = true
	var seen []int
	for _, core := range p.CPCCores {
		for _, pass := range s.m.Singles[core].Way {
			if slices.Contains(seen, pass.Run) {
				continue
			}
			seen = append(seen, pass.Run)
			if s.m.Runs[pass.Run].Enc.Ferromagnetic() {
				steel = append(steel, pass)
			} else {
				all = false
			}
		}
	}
	return steel, all && len(steel) > 0
}

// steelBeside works out how low a reading may come where the cpc lies in steel
// all the way and the steel, joints sound, leads in parallel with it: R2 then
// is the cpc and the tube in parallel. Bonding and the building can bring it
// lower still. Of a ring nothing is worked out.
func (s *sheet) steelBeside(w *sum.Work, t route.Test, p *route.PointPath, r resistances) sum.Term {
	nothing := sum.Term{Value: none}
	steel, all := s.steelRuns(p)
	if !all || p.CPCBack > 0 || t == route.LineNeutral {
		return nothing
	}
	tube, err := steelOhm(nil, s.m, steel)
	if err != nil {
		return nothing
	}
	tube = w.Given("the steel of the same runs, joints sound, as a path beside the cpc", sum.Term{Symbol: "R steel", Value: tube.Value, Unit: "Ω"})
	both := sum.Over(sum.Times(sum.T(r.R2), sum.T(tube)), sum.Add(sum.T(r.R2), sum.T(tube)))
	symbol := "R2 with steel"
	if t != route.CPCAlone {
		symbol, both = "R1+R2 with steel", sum.Add(sum.T(r.R1), both)
	}
	return s.atTest(w, symbol, "as low as the tube may bring it", both)
}

// notes are what to know of a circuit before a reading is called wrong.
func (s *sheet) notes(circuit int) []string {
	c := &s.m.Circuits[circuit]
	var out []string
	inSteel, figured := false, false
	for i := range s.paths[circuit] {
		p := &s.paths[circuit][i]
		steel, all := s.steelRuns(p)
		_, err := steelOhm(nil, s.m, steel)
		inSteel, figured = inSteel || len(steel) > 0, figured || all && err == nil && p.CPCBack == 0
	}
	if inSteel {
		note := "the cpc lies in steel, a path in parallel once the accessories are tied to their boxes: R2, R1+R2 and Zs then read lower"
		if figured {
			note += ", to about the figures under steel"
		}
		out = append(out, note+"; the cpc itself is proved before its tails are tied")
	}
	switch c.CPCRule {
	case route.ConduitCPC:
		if text := notSteel(s.m, c); text != "" {
			out = append(out, text)
		}
		out = append(out, "steel conduit serves as cpc: R2 by a long lead at each point; the figure is for sound joints, and one loose coupler outweighs the whole tube")
	case route.SharedCPC:
		out = append(out, "one cpc serves several circuits: R2 is by its own way, which may pass points of another circuit")
	}
	return append(out, arrangementNotes(c)...)
}

// arrangementNotes are what the shape of a circuit asks of the tester.
func arrangementNotes(c *route.Circuit) []string {
	var out []string
	switch c.Arrangement.V {
	case route.Ring:
		if c.CPCRule != route.OwnCPC {
			out = append(out, "lines and neutrals cross-connected, every point reads about (r1+rn)/4; the tube is the cpc and makes no ring to be measured end to end")
			break
		}
		out = append(out, "with the ends cross-connected every point reads about (r1+r2)/4, the same with a cpc of the line's size; a smaller cpc reads most in the middle of the ring; in service both ways are in parallel, so Zs takes less near the board")
		if len(c.Spurs) > 0 {
			out = append(out, "a spur reads more by its own length")
		}
	case route.Lighting:
		out = append(out, "R1+R2 at a light with its switch closed; with more than one switch, in every state that lights it")
	}
	if c.Lines() == 3 {
		out = append(out, "three-phase: each line in turn; the highest is written down")
	}
	return out
}
