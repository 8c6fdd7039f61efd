package store

import (
	"cmp"
	"slices"

	"drawbar/booking"
	"drawbar/booking/fault"

	"gorm.io/gorm"
)

// seenRow is one thing a plan rests on, as it stands.
type seenRow struct {
	ID      booking.ID
	Version int
	What    string
}

// versionsOf finds each id in the table it belongs to; ids differ over all of
// them.
const versionsOf = `SELECT id, version, 'Booking ' || number AS what FROM bookings WHERE id IN @ids
UNION ALL SELECT id, version, 'The yard ' || name FROM yards WHERE id IN @ids
UNION ALL SELECT id, version, 'The farm ' || name FROM farms WHERE id IN @ids
UNION ALL SELECT id, version, 'The rig ' || name FROM rigs WHERE id IN @ids
UNION ALL SELECT id, version, name FROM people WHERE id IN @ids
UNION ALL SELECT visits.id, visits.version, 'The visit to ' || farms.name FROM visits JOIN farms ON farms.id = visits.farm_id WHERE visits.id IN @ids
UNION ALL SELECT code, version, 'The service ' || name FROM services WHERE code IN @ids
UNION ALL SELECT 'business', version, 'The business' FROM business WHERE 'business' IN @ids`

// atOnce is how many ids go into one query.
const atOnce = 500

// restsOn checks that everything a plan rests on is as the plan saw it.
func restsOn(tx *gorm.DB, versions map[booking.ID]int) error {
	ids := make([]booking.ID, 0, len(versions))
	for id := range versions {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	for some := range slices.Chunk(ids, atOnce) {
		var rows []seenRow
		if err := tx.Raw(versionsOf, map[string]any{"ids": some}).Scan(&rows).Error; err != nil {
			return err
		}
		for _, r := range rows {
			if r.Version != versions[r.ID] {
				return changed(r.What + " has changed")
			}
		}
		if len(rows) < len(some) {
			return changed("Something this plan rests on is gone")
		}
	}
	return nil
}

func changed(what string) error {
	return fault.New(fault.Conflict, what+" since this plan was made. Nothing was moved; plan again to take the change in.")
}

// restsOnDays checks that a span of days holds the visits and the days off
// that the plan saw, and no others.
func restsOnDays(tx *gorm.DB, seen *booking.SeenDays) error {
	if seen == nil {
		return nil
	}
	var rows []dayOffRow
	if err := tx.Where("day BETWEEN ? AND ?", seen.From.String(), seen.To.String()).Find(&rows).Error; err != nil {
		return err
	}
	off := make([]booking.DayOff, len(rows))
	for i, r := range rows {
		off[i] = r.domain()
	}
	if !slices.Equal(sortedOff(off), sortedOff(seen.Off)) {
		return changed("When a rig goes out has changed")
	}
	var visits []booking.ID
	err := tx.Model(&visitRow{}).Where("day BETWEEN ? AND ? AND state <> ?", seen.From.String(), seen.To.String(), booking.CalledOff).Pluck("id", &visits).Error
	if err != nil {
		return err
	}
	if !slices.Equal(slices.Sorted(slices.Values(visits)), slices.Sorted(slices.Values(seen.Visits))) {
		return changed("A visit of these days has come or gone")
	}
	return nil
}

func sortedOff(off []booking.DayOff) []booking.DayOff {
	sorted := slices.Clone(off)
	slices.SortFunc(sorted, func(a, b booking.DayOff) int {
		return cmp.Or(a.Date.DaysSince(b.Date), cmp.Compare(a.RigID, b.RigID))
	})
	return sorted
}
