// Package round plans rounds: which rig goes to which yard on which day, in
// which order, and where everybody sleeps. A Problem goes in, a Plan comes
// out.
//
// Time is a day index 0..Days-1 and seconds of that local day; whoever builds
// the Problem turns dates and zones into these and back. Prices are whole
// minor units of one currency; costs are kept exactly, in Ticks.
//
// # One day of a rig
//
// The crew leaves, drives, and at each yard sets up, works, packs down and
// washes down before it drives on. Work, the handling of animals, has to lie
// in daylight (unless the yard is lit) and may begin only inside one of the
// visit's windows; set-up and pack-down may lie outside both. The crew leaves
// home no earlier than RigDay.Start and is done by RigDay.Latest; what lies
// after RigDay.End is overtime. It leaves as late as it can without finishing
// later, and its hours count from leaving to the end of the last drive.
//
// How long a visit takes depends on who goes: on days with a RigDay.Crew the
// times are those of that crew. Who sets up or packs down takes their own time
// for it, even for a visit that others worked.
//
// Two visits in a row at one place share a set-up: no pack-down, no drive and
// no second set-up between them.
//
// # Nights
//
// After a working day the rig is towed home, or it is left standing where the
// last visit of the day allows it. Then the crew drives home and back without
// it, or lodges there. A rig left standing stays as it stands: packing down and
// washing come the next morning, unless the next visit is at the same place.
// On days without visits nobody moves. After the last day every rig is home.
//
// # Long visits
//
// A visit with MinChunk may be worked over several days in a row by one rig,
// at least MinChunk a day, as long in all as it takes the crew of the first day.
// The rig stands at the yard in between, it is set up once and packed down once,
// and nothing else is done between two parts.
//
// # Hygiene
//
// Inside a day hygiene classes never go down. Hygiene gives the wash-down
// between two visits, before going home, and the days that have to pass.
//
// # Uncertainty
//
// Times are medians. What a visit takes longer at its 80 % and 90 % time adds
// up along a day like independent errors: by squares.
//
// # Promises of this package
//
// Pure: no I/O and no clock of its own beyond Options.Now. The same Problem,
// Seed and Iterations give the same Plan, on any number of processors. Whatever
// Solve returns passes Validate, which shares no code with it. Input errors
// name the field.
package round
