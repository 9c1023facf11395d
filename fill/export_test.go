package fill

import "tubewright/factors/sum"

// Again is the finding that the rule makes when it writes its working down.
func (f *Finding) Again() (Finding, []sum.Step) {
	w := &sum.Work{}
	again := f.rule(w, f.matter, f.index)
	return again, w.Steps
}
