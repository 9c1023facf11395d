package route

import "tubewright/factors"

// With reads the job again with other enclosures: other returns what each run
// is to be made of. Enclosures with a stated figure stay as they are. The
// error is a source.Problems, where the job cannot be had so.
//
// Cost: that of Parse.
func (j *Job) With(other func(factors.Enclosure) factors.Enclosure) (*Job, error) {
	return j.again(func(p *parser) { p.instead = other })
}

// WithCircuit reads the job again with a circuit changed before its cores are
// laid: other ways that it names, or no borrowed neutral. The error is a
// source.Problems, where the job cannot be had so.
//
// Cost: that of Parse.
func (j *Job) WithCircuit(circuit int, change func(*Circuit)) (*Job, error) {
	return j.again(func(p *parser) {
		p.changed = func(o *Job) {
			c := &o.Circuits[circuit]
			change(c)
			for i := range c.Via {
				c.Via[i].used = false
			}
		}
	})
}

func (j *Job) again(with func(*parser)) (*Job, error) {
	o, err := parse(j.File.Name, j.File.Text(), with)
	if err == nil {
		o.Terms = j.Terms // the command line may have its own
	}
	return o, err
}
