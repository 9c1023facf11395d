package cut

func (s *solver) search(p part) {}
