package syntax

// A pool makes the most frequent nodes of the tree.
type pool struct {
	numbers  slab[Number]
	names    slab[Name]
	binaries slab[Binary]
}

// A slab hands out values of one type from arrays, because a sheet has many
// small nodes and making each on its own takes a good part of the parser's time.
// The first array is small: the many expressions of pages have few nodes.
type slab[T any] struct {
	free []T
	size int
}

// next returns a pointer to a zero value that was not handed out before.
func (s *slab[T]) next() *T {
	if len(s.free) == 0 {
		s.size = min(max(2, 2*s.size), 32)
		s.free = make([]T, s.size)
	}
	x := &s.free[0]
	s.free = s.free[1:]
	return x
}
