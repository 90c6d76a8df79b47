package unit

// quick reads what most readings are, a decimal with or without a unit, to the bits that read makes of it:
// a whole number over a whole number, both exact in a float64, is rounded once by one division. It is not ok
// for all else, and for all that is refused: that is read as it stands there.
func quick(text string, k Kind, sys System) (Number, bool) {
	if k == Count || k == KSlope {
		return Number{}, false
	}
	m, ones, decimals, rest := plainDecimal(text)
	if m.digits == 0 || m.digits > maxQuick {
		return Number{}, false
	}
	u := k.entry(sys)
	if rest != "" {
		u = table().byAlias[rest]
	} else if k.row().bareMax[sys.index()] > 0 {
		return Number{}, false
	}
	if u == nil || u.kind != k || u.zero != nil || u.num == 0 {
		return Number{}, false
	}
	top, bottom := m.whole*u.num, ones*u.den
	if top >= exactBelow || bottom >= exactBelow {
		return Number{}, false
	}
	v := top / bottom
	if limit, _ := Limit(k, sys); v > limit {
		return Number{}, false
	}
	if m.negative && v != 0 {
		v = -v
	}
	return Number{Value: v, Kind: k, Text: text, Unit: u.name, Decimals: decimals}, true
}

const (
	maxQuick   = 15      // digits of a whole number that is exact in a float64
	exactBelow = 1 << 53 // every whole number below is exact
)

// shifted is a decimal with its point taken out.
type shifted struct {
	whole    float64
	digits   int
	negative bool
}

// plainDecimal splits a decimal off the front of a text: 12.5mm is 125 over 10, 1 decimal, "mm".
func plainDecimal(text string) (m shifted, ones float64, decimals int, rest string) {
	i, point := 0, false
	ones = 1
	if i < len(text) && text[i] == '-' {
		m.negative = true
		i++
	}
	for ; i < len(text) && m.digits <= maxQuick; i++ {
		c := text[i]
		if c == '.' && !point {
			point = true
			continue
		}
		if !digit(c) {
			break
		}
		m.whole = 10*m.whole + float64(c-'0')
		m.digits++
		if point {
			ones *= 10
			decimals++
		}
	}
	return m, ones, decimals, text[i:]
}
