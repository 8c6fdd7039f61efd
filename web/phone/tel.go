package phone

import "strings"

// tel is a telephone number as a tel: link has it (RFC 3966): digits, with a
// plus sign only in front.
func tel(number string) string {
	var b strings.Builder
	for i, r := range strings.TrimSpace(number) {
		if r >= '0' && r <= '9' || r == '+' && i == 0 {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Ring is the number of the farm's telephone.
func (p visitPage) Ring() string { return tel(p.Farm.Phone) }

// Ring is the number of the farm's telephone.
func (l line) Ring() string { return tel(l.Stop.Farm.Phone) }
