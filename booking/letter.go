package booking

import (
	"fmt"
	"strings"
	"time"

	"drawbar/booking/say"
)

// letter writes to one farm.
type letter struct {
	business Business
	farm     Farm
}

func (d *Desk) letter(b Business, f Farm) letter { return letter{business: b, farm: f} }

// notice puts the frame around a letter's paragraphs.
func (l letter) notice(subject string, paragraphs ...string) Notice {
	greeting := "Hello,"
	if l.farm.Contact != "" {
		greeting = "Hello " + l.farm.Contact + ","
	}
	closing := l.business.Name
	if l.business.Phone != "" {
		closing += "\n" + l.business.Phone
	}
	body := strings.Join(append(append([]string{greeting}, paragraphs...), closing), "\n\n") + "\n"
	return Notice{To: l.farm.Email, ToName: l.farm.Contact, Subject: subject, Body: body}
}

const changeHint = "Change it or take it back here, any time before the work begins:\n"

func (l letter) asked(b Booking, url string) Notice {
	return l.notice(fmt.Sprintf("Your booking %d: %s", b.Number, b.MobsInWords()),
		fmt.Sprintf("thank you for booking %s at %s.", b.MobsInWords(), l.farm.Name),
		"What suits you:\n"+windowsInWords(b.Windows),
		"We will write again when we know the day.",
		changeHint+url)
}

func (l letter) changed(b Booking, url string) Notice {
	return l.notice(fmt.Sprintf("Booking %d changed", b.Number),
		fmt.Sprintf("your booking is now for %s at %s.", b.MobsInWords(), l.farm.Name),
		"What suits you:\n"+windowsInWords(b.Windows),
		changeHint+url)
}

func (l letter) withdrawn(b Booking, url string) Notice {
	return l.notice(fmt.Sprintf("Booking %d withdrawn", b.Number),
		fmt.Sprintf("your booking for %s at %s is withdrawn. Nothing is owed for it.", b.MobsInWords(), l.farm.Name),
		"You can look at it here:\n"+url)
}

func (l letter) offered(b Booking, visits []Visit, url string) Notice {
	return l.notice(fmt.Sprintf("A day for booking %d: please answer", b.Number),
		fmt.Sprintf("for %s at %s we could come:", b.MobsInWords(), l.farm.Name),
		l.daysInWords(visits),
		"Please say yes or no here:\n"+url)
}

func (l letter) agreed(b Booking, visits []Visit, url string) Notice {
	return l.notice(fmt.Sprintf("Booking %d: we are coming on %s", b.Number, say.Day(visits[0].Day)),
		fmt.Sprintf("we are coming to %s for %s:", l.farm.Name, b.MobsInWords()),
		l.daysInWords(visits),
		"Please have the animals penned and settled half an hour before, with water, and somebody there who knows them.",
		changeHint+url)
}

func (l letter) moved(b Booking, old, next []Visit, url string) Notice {
	if len(next) == 0 {
		return l.calledOff(b, old, "The day cannot be kept.", url)
	}
	return l.notice(fmt.Sprintf("Booking %d: we have to move, to %s", b.Number, say.Day(next[0].Day)),
		fmt.Sprintf("we are sorry: we have to move our visit to %s for %s. We are coming now:", l.farm.Name, b.MobsInWords()),
		l.daysInWords(next),
		"instead of:\n"+l.daysInWords(old),
		changeHint+url)
}

func (l letter) calledOff(b Booking, visits []Visit, reason, url string) Notice {
	return l.notice(fmt.Sprintf("Booking %d: we cannot come on %s", b.Number, say.Day(visits[0].Day)),
		fmt.Sprintf("we are sorry: our visit to %s for %s is called off. %s", l.farm.Name, b.MobsInWords(), reason),
		"We are looking for another day and will write again. When it suits can be changed here:\n"+url)
}

func (l letter) found(url string) Notice {
	return l.notice("Your link to book",
		fmt.Sprintf("this opens the booking form with the details of %s filled in. It works once, for an hour.", l.farm.Name),
		url,
		"If you did not ask for it, nothing needs doing.")
}

// MobsInWords is what the booking is about: "240 ewes and 3 rams".
func (b Booking) MobsInWords() string {
	words := make([]string, len(b.Mobs))
	for i, m := range b.Mobs {
		words[i] = m.Class.Count(m.Head)
	}
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func windowsInWords(windows []Window) string {
	lines := make([]string, len(windows))
	for i, w := range windows {
		lines[i] = "  " + w.InWords()
	}
	return strings.Join(lines, "\n")
}

// InWords is the window as people say it: "Mon 8 March to Fri 12 March,
// mornings".
func (w Window) InWords() string {
	text := say.Day(w.From)
	if w.To != w.From {
		text += " to " + say.Day(w.To)
	}
	switch w.Part {
	case Morning:
		text += ", mornings"
	case Afternoon:
		text += ", afternoons"
	}
	return text
}

// daysInWords lists when the rig is at the yard, in the business's zone.
func (l letter) daysInWords(visits []Visit) string {
	lines := make([]string, len(visits))
	for i, v := range visits {
		at := func(t time.Time) string { return say.Time(t, l.business.Location()) }
		lines[i] = fmt.Sprintf("  %s: arriving about %s, done about %s, at the latest about %s",
			say.Day(v.Day), at(v.Arrive), at(v.Finish()), at(v.FinishLate()))
	}
	return strings.Join(lines, "\n")
}
