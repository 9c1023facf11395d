package cut

func (s *solver) tidy() {}
