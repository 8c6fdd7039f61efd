package drive

// wiki is the table most regions are read from; its text is under the Creative
// Commons Attribution-ShareAlike 2.0 licence, of which the numbers below are
// taken. Where a region has several limits for cars with trailers, the one for
// a car and one trailer up to 3.5 t is here.
const wiki = "OpenStreetMap wiki, Default speed limits, revision 2951812"

const readWiki = "2026-02-04"

func mph(v float64) uint16 { return uint16(v*1.609344 + 0.5) }

// regions is the dated table of limits. The trailer limits of GB agree with
// the Highway Code, rule 124, that of US-CA with the California Vehicle Code,
// section 22406.
var regions = []Rules{
	{Region: "AD", Car: Limits{20, 50, 60, 90, 120}, Source: wiki, Read: readWiki},
	{Region: "AT", Car: Limits{7, 50, 100, 100, 130}, Trailer: Limits{0, 0, 80, 80, 100}, Source: wiki, Read: readWiki},
	{Region: "AU", DriveLeft: true, Car: Limits{0, 50, 100, 100, 100}, Source: wiki, Read: readWiki},
	{Region: "AU-WA", DriveLeft: true, Car: Limits{0, 50, 110, 110, 110}, Trailer: Limits{0, 0, 100, 100, 100}, Source: wiki, Read: readWiki},
	{Region: "CA-ON", Car: Limits{0, 50, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "CH", Car: Limits{20, 50, 80, 80, 120}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "DE", Car: Limits{7, 50, 100, 0, 0}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "DK", Car: Limits{15, 50, 80, 80, 130}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "ES", Car: Limits{20, 30, 90, 90, 120}, Trailer: Limits{0, 0, 80, 80, 90}, Source: wiki, Read: readWiki},
	{Region: "FI", Car: Limits{20, 50, 80, 80, 80}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "FR", Car: Limits{20, 50, 80, 110, 130}, Source: wiki, Read: readWiki},
	{Region: "GB", DriveLeft: true, Car: Limits{0, mph(30), mph(60), mph(70), mph(70)}, Trailer: Limits{0, 0, mph(50), mph(60), mph(60)}, Source: wiki, Read: readWiki},
	{Region: "HU", Car: Limits{20, 50, 90, 90, 130}, Trailer: Limits{0, 0, 70, 70, 80}, Source: wiki, Read: readWiki},
	{Region: "IE", DriveLeft: true, Car: Limits{0, 50, 80, 100, 120}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "IM", DriveLeft: true, Car: Limits{mph(20), mph(30), mph(60), mph(60), mph(60)}, Trailer: Limits{0, 0, mph(40), mph(40), mph(40)}, Source: wiki, Read: readWiki},
	{Region: "IS", Car: Limits{10, 50, 80, 90, 90}, Source: wiki, Read: readWiki},
	{Region: "LI", Car: Limits{0, 50, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "NL", Car: Limits{15, 50, 80, 100, 130}, Trailer: Limits{0, 0, 0, 90, 90}, Source: wiki, Read: readWiki},
	{Region: "NO", Car: Limits{7, 50, 80, 80, 110}, Trailer: Limits{0, 0, 80, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "NZ", DriveLeft: true, Car: Limits{10, 50, 100, 100, 100}, Trailer: Limits{0, 0, 90, 90, 90}, Source: wiki, Read: readWiki},
	{Region: "PL", Car: Limits{20, 50, 90, 100, 140}, Trailer: Limits{0, 0, 70, 80, 80}, Source: wiki, Read: readWiki},
	{Region: "PT", Car: Limits{20, 50, 90, 90, 120}, Trailer: Limits{0, 0, 70, 70, 100}, Source: wiki, Read: readWiki},
	{Region: "RO", Car: Limits{20, 50, 90, 90, 130}, Trailer: Limits{0, 0, 80, 80, 120}, Source: wiki, Read: readWiki},
	{Region: "SE", Car: Limits{7, 50, 70, 70, 110}, Trailer: Limits{0, 0, 0, 0, 80}, Source: wiki, Read: readWiki},
	{Region: "SI", Car: Limits{10, 50, 90, 110, 130}, Trailer: Limits{0, 0, 80, 100, 100}, Source: wiki, Read: readWiki},
	{Region: "US-CA", Car: Limits{0, mph(25), mph(55), mph(65), mph(65)}, Trailer: Limits{0, 0, mph(55), mph(55), mph(55)}, Source: wiki, Read: readWiki},
	{Region: "US-DE", Car: Limits{0, mph(25), mph(50), mph(55), mph(55)}, Source: wiki, Read: readWiki},
	{Region: "US-ID", Car: Limits{0, mph(35), mph(55), mph(65), mph(75)}, Source: wiki, Read: readWiki},
	{Region: "US-MD", Car: Limits{0, mph(30), mph(50), mph(55), mph(55)}, Source: wiki, Read: readWiki},
	{Region: "US-MT", Car: Limits{0, mph(25), mph(70), mph(70), mph(80)}, Source: wiki, Read: readWiki},
	{Region: "US-NJ", Car: Limits{0, mph(25), mph(50), mph(50), mph(50)}, Source: wiki, Read: readWiki},
	{Region: "US-OH", Car: Limits{0, mph(25), mph(55), mph(60), mph(70)}, Source: wiki, Read: readWiki},
	{Region: "US-OR", Car: Limits{0, mph(25), mph(55), mph(55), mph(65)}, Source: wiki, Read: readWiki},
	{Region: "US-PA", Car: Limits{0, mph(35), mph(55), mph(55), mph(55)}, Source: wiki, Read: readWiki},
	{Region: "US-WA", Car: Limits{0, mph(25), mph(50), mph(60), mph(60)}, Trailer: Limits{0, 0, mph(60), mph(60), mph(60)}, Source: wiki, Read: readWiki},
	{Region: "US-WY", Car: Limits{0, mph(30), mph(65), mph(70), mph(75)}, Source: wiki, Read: readWiki},
	{Region: "ZA", DriveLeft: true, Car: Limits{0, 60, 100, 100, 120}, Source: wiki, Read: readWiki},
}

// cautious is for regions the table lacks. Common practice, no source.
var cautious = Rules{
	Car:     Limits{10, 50, 80, 90, 100},
	Trailer: Limits{0, 50, 80, 80, 80},
	Source:  "common practice, no source",
	Read:    "2026-11-25",
}
