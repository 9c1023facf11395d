package cut

// simpleBound is the better of material and L2: new lengths that no plan can
// do without.
func (m *model) simpleBound() int {
	return max(m.material(), m.l2())
}

// material divides what the offcuts cannot hold by a new length.
func (m *model) material() int {
	total := 0
	for _, s := range m.sizes {
		total += s.w * s.need
	}
	for _, k := range m.kinds[1:] {
		total -= k.room * k.count
	}
	return max(0, ceilDiv(total, m.kinds[fresh].room))
}

// l2 counts the pieces of which no two share a length, then divides what must
// go beside them, for each least piece considered.
//
// An offcut counts as a new length partly filled by a piece of what it lacks.
// Any plan packs those too, one a bar, so the offcuts may be taken off the
// count. That needs offcuts no longer than a new length; else the bound is 0.
//
// Source: Martello and Toth, Knapsack Problems (1990), section 8.3, from memory.
func (m *model) l2() int {
	C := m.kinds[fresh].room
	var items []crowd
	offcuts := 0
	for _, k := range m.kinds[1:] {
		if k.room > C {
			return 0
		}
		items = append(items, crowd{C - k.room, k.count})
		offcuts += k.count
	}
	for _, s := range m.sizes {
		items = append(items, crowd{s.w, s.need})
	}
	best := l2At(0, C, items)
	for _, it := range items {
		if 2*it.w <= C {
			best = max(best, l2At(it.w, C, items))
		}
	}
	return max(0, best-offcuts)
}

// crowd is n pieces of one length.
type crowd struct{ w, n int }

// l2At is Martello and Toth's L(α): pieces that stand alone, pieces over half
// a length, and what the room beside these cannot hold of the pieces from α
// to half.
func l2At(alpha, C int, items []crowd) int {
	lone, halves, beside, small := 0, 0, 0, 0
	for _, it := range items {
		switch {
		case it.w > C-alpha:
			lone += it.n
		case 2*it.w > C:
			halves += it.n
			beside += it.n * (C - it.w)
		case it.w >= alpha:
			small += it.n * it.w
		}
	}
	return lone + halves + max(0, ceilDiv(small-beside, C))
}

// ceilDiv is ⌈a/b⌉ for b > 0.
func ceilDiv(a, b int) int {
	q := a / b
	if a%b > 0 {
		q++
	}
	return q
}
