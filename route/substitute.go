package route

import "tubewright/factors"

// With reads the job again with other enclosures: other returns what each run
// is to be made of. Enclosures with a stated figure stay as they are. The
// error is a source.Problems, where the job cannot be had so.
//
// Cost: that of Parse.
func (j *Job) With(other func(factors.Enclosure) factors.Enclosure) (*Job, error) {
	o, err := parse(j.File.Name, j.File.Text(), other)
	if err == nil {
		o.Terms = j.Terms // the command line may have its own
	}
	return o, err
}
