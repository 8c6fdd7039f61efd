package view

import (
	"regexp"
	"strconv"
	"strings"
	"time"

	"drawbar/booking"
	"drawbar/booking/fault"

	"cloud.google.com/go/civil"
)

// Text is a field without surrounding space, with single line breaks.
func (f *Form) Text(name string) string {
	f.read = append(f.read, name)
	return strings.TrimSpace(strings.ReplaceAll(f.values.Get(name), "\r\n", "\n"))
}

// Secret is a field exactly as typed, for passwords.
func (f *Form) Secret(name string) string {
	f.read = append(f.read, name)
	return f.values.Get(name)
}

// Texts are all values of a field, such as ticked boxes.
func (f *Form) Texts(name string) []string {
	f.read = append(f.read, name)
	return f.values[name]
}

// Bool tells whether a box is ticked.
func (f *Form) Bool(name string) bool {
	switch f.Text(name) {
	case "on", "true", "yes", "1":
		return true
	}
	return false
}

// entry is Text that notes a missing entry; ok is false where there is
// nothing to read on.
func (f *Form) entry(name string, need fault.Need) (text string, ok bool) {
	text = f.Text(name)
	if text == "" && need == fault.Required {
		f.Errors.Add(name, "Please fill this in.")
	}
	return text, text != "" && f.Errors[name] == ""
}

var grouped = regexp.MustCompile(`^[+-]?\d{1,3}(,\d{3})+$`)

// Int is a whole number; thousands may be grouped by commas. 0 where it is
// missing or wrong.
func (f *Form) Int(name string, need fault.Need) int {
	text, ok := f.entry(name, need)
	if !ok {
		return 0
	}
	if grouped.MatchString(text) {
		text = strings.ReplaceAll(text, ",", "")
	}
	n, err := strconv.ParseInt(text, 10, 32)
	if err != nil {
		f.Errors.Add(name, "Give a whole number, such as 240.")
		return 0
	}
	return int(n)
}

var decimal = regexp.MustCompile(`^[+-]?\d{1,15}([.,]\d{1,15})?$`)

// Float is a number with a decimal point or comma. 0 where it is missing or
// wrong.
func (f *Form) Float(name string, need fault.Need) float64 {
	text, ok := f.entry(name, need)
	if !ok {
		return 0
	}
	n, err := strconv.ParseFloat(strings.ReplaceAll(text, ",", "."), 64)
	if err != nil || !decimal.MatchString(text) {
		f.Errors.Add(name, "Give a number, such as 2.4.")
		return 0
	}
	return n
}

// Date is a day as date fields send it. The zero Date where it is missing or
// wrong.
func (f *Form) Date(name string, need fault.Need) civil.Date {
	text, ok := f.entry(name, need)
	if !ok {
		return civil.Date{}
	}
	d, err := civil.ParseDate(text)
	if err != nil || d.Year < 1900 || d.Year > 2200 {
		f.Errors.Add(name, "Give a day as year, month and day, such as 2027-03-08.")
		return civil.Date{}
	}
	return d
}

// Clock is a time of day in minutes after midnight. 0 where it is missing or
// wrong.
func (f *Form) Clock(name string, need fault.Need) int {
	text, ok := f.entry(name, need)
	if !ok {
		return 0
	}
	t, err := time.Parse("15:04", text)
	if err != nil {
		f.Errors.Add(name, "Give a time of day in hours and minutes, such as 07:30.")
		return 0
	}
	return t.Hour()*60 + t.Minute()
}

// ID is the id of something picked from a list. "" where it is missing or
// wrong.
func (f *Form) ID(name string, need fault.Need) booking.ID {
	text, ok := f.entry(name, need)
	if !ok {
		return ""
	}
	id, ok := booking.ParseID(text)
	if !ok {
		f.Errors.Add(name, "Choose one from the list.")
	}
	return id
}

// Version is the hidden count of changes the page was made from.
func (f *Form) Version() int {
	n, err := strconv.Atoi(f.values.Get("version"))
	if err != nil || n < 0 {
		return 0
	}
	return n
}

// Choice is a field that must be one of the given values.
func Choice[T ~string](f *Form, name string, among []T) T {
	text := f.Text(name)
	for _, v := range among {
		if string(v) == text {
			return v
		}
	}
	f.Errors.Add(name, "Choose one from the list.")
	return ""
}

// ordinal counts people's way: "0" is "1".
func ordinal(part string) (string, bool) {
	n, err := strconv.Atoi(part)
	if err != nil {
		return "", false
	}
	return strconv.Itoa(n + 1), true
}
