package pace

const entered = "2026-11-25"

// practice makes a row of common practice: somebody's experience, no source.
func practice(code string, species Species, class Class, seconds, cv float64) Prior {
	return Prior{code, species, class, seconds, cv, CommonPractice, "", entered}
}

// DefaultPriors is the table a new business starts with. Nearly all of it is
// common practice and says so; a published range exists for two services only.
func DefaultPriors() Priors {
	rows := []Prior{
		practice(Handling, "", "", 8, 0.35),
		practice(Handling, "", Lamb, 6, 0.35),
		practice(Handling, "", Hogget, 8, 0.35),
		practice(Handling, "", Ram, 11, 0.35),
		practice(Handling, Goat, "", 9.5, 0.35),
		practice(Handling, "", Kid, 7, 0.35),
		practice(Handling, "", Buck, 13, 0.35),

		practice(PushUp, "", "", 6, 0.4),
		practice(PushUp, Goat, "", 7, 0.4),

		practice(Drench, "", "", 12, 0.35),
		practice(Drench, "", Lamb, 10, 0.35),
		practice(Drench, Goat, "", 14, 0.35),
		practice(Drench, "", Kid, 12, 0.35),

		practice(Inject, "", "", 9, 0.35),
		practice(Inject, Goat, "", 10.5, 0.35),

		practice(EarTag, "", "", 32, 0.4),
		practice(EarTag, "", Lamb, 28, 0.4),
		practice(EarTag, Goat, "", 35, 0.4),

		practice(Weigh, "", "", 9, 0.35),
		practice(Sort, "", "", 2.5, 0.4),

		practice(FootCheck, "", "", 42, 0.4),
		practice(FootCheck, "", Lamb, 32, 0.4),
		practice(FootCheck, "", Ram, 50, 0.4),

		practice(FootTrim, "", "", 180, 0.4),
		practice(FootTrim, "", Lamb, 130, 0.4),
		practice(FootTrim, "", Ram, 220, 0.4),
		practice(FootTrim, Goat, "", 170, 0.4),
		practice(FootTrim, "", Buck, 220, 0.4),

		practice(Crutch, "", "", 90, 0.4),
		practice(Crutch, "", Lamb, 70, 0.4),
		practice(Crutch, "", Ram, 120, 0.4),

		practice(LambMark, "", "", 55, 0.4),
		practice(PourOn, "", "", 5, 0.4),
	}
	rows = append(rows, Prior{Condition, "", "", 3.4, 0.4, Published,
		"2 to 5 seconds a head once presented, genetics adviser of a farm advisory group, 2021; taken as the 10 % and 90 % points", entered})
	scan := practice(Scan, "", "", 22, 0.5)
	scan.Source = "kept faster than the research rate of at least 60 ewes an hour (White, Russel & Fowler 1984, Vet Rec 115:140) and slower than 250 an hour told of working technicians"
	return Priors{Rows: append(rows, scan), Farm: 0.2, Crew: 0.1, Day: 0.15, Head: headSpread}
}
