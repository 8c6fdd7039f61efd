package storetest

import (
	"strings"

	"drawbar/booking"
	"drawbar/booking/sample"
)

// awkward texts that a form lets through: package fault's Text refuses
// control characters and broken UTF-8, and nothing else.
var awkward = []string{
	`It's "Nell's" \ yard; -- DROP TABLE`,
	"Ñandú Œuvre Æsir ßtraße İzmir ΑΩ Жук 羊 ヤギ",
	"e\u0301 stays apart, é stays whole",
	"🐑🐐 👩\u200d🌾 \u202eright to left\u202c",
	"two\nlines\r\nand\ta tab",
	"  spaces kept  ",
	"%s %_ $1 ? :name @name {{.}} <b>&amp;</b> NULL",
	strings.Repeat("羊", 2000),
}

func keepsAnyText(s *suite) {
	farm, yard := s.farm()
	for _, text := range awkward {
		farm.Notes = text
		s.must(s.SaveFarm(s.ctx, &farm))
		s.same("farm's notes", found[booking.Farm](s)(s.Farm(s.ctx, farm.ID)).Notes, text)

		b := sample.Booking(farm, yard)
		b.Note, b.Attention = text, text
		s.must(s.AddBooking(s.ctx, booking.NewBooking{Farm: &farm, Yard: &yard, Booking: &b}))
		got := found[booking.Booking](s)(s.Booking(s.ctx, b.ID))
		s.same("booking's note", got.Note, text)
		s.same("booking's attention", got.Attention, text)

		b.Attention = ""
		s.must(s.ChangeBooking(s.ctx, booking.BookingChange{Booking: &b, Verb: "changed", Detail: text}))
		last := found[[]booking.Change](s)(s.Changes(s.ctx, booking.ChangeQuery{Limit: 1}))
		s.same("detail in the record", last[0].Detail, text)
	}
}
