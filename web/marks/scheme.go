package marks

// scheme is the mark scheme of a part, a mark to a line.
func (m room) scheme(b *book, item int, notation, part string) (list []string, err error) {
	k, err := m.Marker.Key(&b.Set, item, notation)
	if err != nil {
		return nil, err
	}
	for _, s := range k.Scheme(k.Part(part)) {
		line := s.Code + ": " + s.For
		if s.Guidance != "" {
			line += " (" + s.Guidance + ")"
		}
		list = append(list, line)
	}
	return list, nil
}
