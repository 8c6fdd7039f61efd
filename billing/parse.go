package billing

import (
	"regexp"
	"strconv"
	"strings"

	"drawbar/booking/fault"
)

// numberPattern takes an unsigned decimal with a point or a comma as its
// mark, and no marks between thousands.
var numberPattern = regexp.MustCompile(`^([0-9]{1,9})(?:[.,]([0-9]{1,6}))?$`)

// ParseMoney reads an amount as people type it, such as 12.50 or 12,5. A sign
// of the currency before or after it is let pass. Errors are fault.Invalid
// with a sentence for the field.
func ParseMoney(text string, c Currency) (Money, error) {
	minor, err := parseScaled(bare(text, c), c.Exponent())
	return c.Of(minor), err
}

// ParseRate reads a rate of up to four places as people type it.
func ParseRate(text string, c Currency) (Rate, error) {
	n, err := parseScaled(bare(text, c), ratePlaces)
	return Rate(n), err
}

// ParsePercent reads a per cent from 0 to 100 as people type it.
func ParsePercent(text string) (Rate, error) {
	n, err := parseScaled(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(text), "%")), ratePlaces)
	if err == nil && Rate(n) > Whole(100) {
		return 0, fault.New(fault.Invalid, "Give a per cent from 0 to 100.")
	}
	return Rate(n), err
}

func bare(text string, c Currency) string {
	text = strings.TrimSpace(text)
	for _, mark := range []string{strings.TrimSpace(c.Sign()), string(c)} {
		text = strings.TrimSuffix(strings.TrimPrefix(text, mark), mark)
	}
	return strings.TrimSpace(text)
}

// parseScaled reads a decimal into whole units of its last allowed place.
func parseScaled(text string, places uint8) (int64, error) {
	found := numberPattern.FindStringSubmatch(text)
	if found == nil {
		return 0, fault.New(fault.Invalid, "Give a number such as 12.50, without a sign and without marks between thousands.")
	}
	whole, part := found[1], strings.TrimRight(found[2], "0")
	switch {
	case strings.Contains(text, ",") && len(found[2]) == 3:
		return 0, fault.Newf(fault.Invalid, "Is %s thousands or a decimal? Write %s%s or %s.%s.", text, whole, found[2], whole, found[2])
	case len(part) > int(places) && places == 0:
		return 0, fault.New(fault.Invalid, "This currency has no decimal places; give a whole number.")
	case len(part) > int(places):
		return 0, fault.Newf(fault.Invalid, "Give at most %d decimal places.", places)
	}
	return strconv.ParseInt(whole+part+strings.Repeat("0", int(places)-len(part)), 10, 64)
}
