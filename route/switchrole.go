package route

import (
	"slices"
	"strconv"
	"strings"
)

// SwitchRole is what a gang of a switch does in its lighting group.
type SwitchRole uint8

// The roles. The zero SwitchRole is a gang that no group uses.
const (
	OneWay       SwitchRole = iota + 1 // the group's only switch
	TwoWay                             // the first or the last of several
	Intermediate                       // between them
)

var switchRoleWords = [...]string{"spare", "one-way", "two-way", "intermediate"}

// String returns one-way, two-way, intermediate, or spare.
func (r SwitchRole) String() string {
	if int(r) >= len(switchRoleWords) {
		return "switch role " + strconv.Itoa(int(r))
	}
	return switchRoleWords[r]
}

// SwitchRoles returns what each gang of a switch does, as the lighting groups
// of the circuits say: one-way where it is its group's only switch, two-way at
// either end of several, by strappers or by the conversion method alike,
// intermediate between them. It is nil for a place that is no switch.
//
// Cost: linear in the switches of all groups.
//
// Source: IEC 60669-1 patterns 1, 6 and 7 (from memory).
func (j *Job) SwitchRoles(place int) []SwitchRole {
	pl := &j.Places[place]
	if pl.Kind != Switch {
		return nil
	}
	roles := make([]SwitchRole, max(1, pl.Gangs))
	for c := range j.Circuits {
		for _, g := range j.Circuits[c].Groups {
			for k, s := range g.Switches {
				if gang := g.Gangs[k]; s.V == place && gang >= 1 && gang <= len(roles) {
					roles[gang-1] = g.role(k)
				}
			}
		}
	}
	return roles
}

// role is what the k-th switch of a group does.
func (g *Group) role(k int) SwitchRole {
	switch last := len(g.Switches) - 1; {
	case last == 0:
		return OneWay
	case k == 0 || k == last:
		return TwoWay
	}
	return Intermediate
}

// roleText says what the gangs of a switch must be, where circuits say so: an
// intermediate is another plate than a two-way.
func (j *Job) roleText(place int) string {
	var words []string
	for _, r := range j.SwitchRoles(place) {
		if w := r.String(); r != 0 && !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	if words == nil {
		return ""
	}
	slices.Sort(words)
	return ", " + strings.Join(words, " and ")
}
