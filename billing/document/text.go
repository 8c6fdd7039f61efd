package document

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// printable makes text fit for the font tables, which reach to U+FFFF:
// letters beyond come out as the replacement sign, control characters as
// spaces.
func printable(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r > 0xFFFF || r == utf8.RuneError:
			return '�'
		case unicode.IsControl(r):
			return ' '
		}
		return r
	}, text)
}

// wrap breaks text into rows of at most a width at the current font. Words
// that are too long for a row are cut.
func (s *sheet) wrap(text string, width float64) []string {
	var rows []string
	for _, paragraph := range strings.Split(strings.ReplaceAll(text, "\r", ""), "\n") {
		row := ""
		for _, word := range strings.Fields(printable(paragraph)) {
			for _, part := range s.cut(word, width) {
				switch {
				case row == "":
					row = part
				case s.GetStringWidth(row+" "+part) <= width:
					row += " " + part
				default:
					rows, row = append(rows, row), part
				}
			}
		}
		if row != "" {
			rows = append(rows, row)
		}
	}
	return rows
}

// cut divides a word into pieces that fit a row.
func (s *sheet) cut(word string, width float64) []string {
	var parts []string
	for s.GetStringWidth(word) > width {
		end := 0
		for i, r := range word {
			next := i + utf8.RuneLen(r)
			if s.GetStringWidth(word[:next]) > width && end > 0 {
				break
			}
			end = next
		}
		parts, word = append(parts, word[:end]), word[end:]
	}
	if word == "" {
		return parts
	}
	return append(parts, word)
}
