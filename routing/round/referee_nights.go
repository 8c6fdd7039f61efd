package round

// nights checks where every rig sleeps, day after day.
func (j *referee) nights() {
	for i := range j.p.Rigs {
		rig := &j.p.Rigs[i]
		place := ""
		if rig.Standing != nil {
			place = rig.Standing.Place
		}
		lodged := rig.Standing != nil && rig.Standing.Lodged
		for d := range j.p.Days {
			place, lodged = j.nightAfter(rig, d, place, lodged)
		}
		if place != "" {
			j.object(RuleHome, rig.ID, j.p.Days-1, "", "still out at %s at the end", place)
		}
	}
}

// nightAfter checks the night after day d of a rig that stood at a place the
// night before (home if empty), and returns where it is now.
func (j *referee) nightAfter(rig *Rig, d int, place string, lodged bool) (string, bool) {
	round, night := j.rounds[rigDay{rig.ID, d}], j.night[rigDay{rig.ID, d}]
	if rig.Days[d].AtHome && place != "" {
		j.object(RuleHome, rig.ID, d, "", "out at %s the night before", place)
	}
	if round == nil {
		return j.idleNight(rig, d, night, place, lodged)
	}
	if night == nil {
		return "", false
	}
	if len(round.Stops) == 0 {
		return place, lodged // bringHome has objected
	}
	v := j.visit[round.Stops[len(round.Stops)-1].Visit]
	if night.Place != v.Place {
		j.object(RuleNight, rig.ID, d, v.ID, "stands at %s, worked last at %s", night.Place, v.Place)
	}
	if !v.MayStay {
		j.object(RuleStay, rig.ID, d, v.ID, "the rig may not stay")
	}
	j.mayLodge(rig, d, night)
	return night.Place, night.Lodged
}

func (j *referee) mayLodge(rig *Rig, d int, night *Night) {
	if night.Lodged && !rig.Days[d].MayLodge {
		j.object(RuleLodge, rig.ID, d, "", "the crew would not")
	}
}

// idleNight checks a night after a day without a round: nobody has moved.
func (j *referee) idleNight(rig *Rig, d int, night *Night, place string, lodged bool) (string, bool) {
	switch {
	case night == nil && place == "":
		return "", false
	case night == nil || night.Place != place || night.Lodged != lodged:
		j.object(RuleNight, rig.ID, d, "", "moved without a round")
		if night == nil {
			return "", false
		}
	}
	j.mayLodge(rig, d, night)
	return night.Place, night.Lodged
}

// waits checks the days between classes, the days before the plan included.
func (j *referee) waits() {
	for i := range j.p.Rigs {
		rig := &j.p.Rigs[i]
		var past []dated
		for _, v := range rig.Visited {
			past = append(past, dated{-v.DaysAgo, v.Class, ""})
		}
		for d := range j.p.Days {
			if r := j.rounds[rigDay{rig.ID, d}]; r != nil {
				for _, s := range r.Stops {
					v := j.visit[s.Visit]
					j.waited(rig, past, dated{d, v.Class, v.ID})
					past = append(past, dated{d, v.Class, v.ID})
				}
			}
		}
	}
}

// dated is a visit by day and class.
type dated struct {
	day, class int
	visit      string
}

func (j *referee) waited(rig *Rig, past []dated, now dated) {
	for _, b := range past {
		if wait := j.p.Hygiene.Wait[b.class][now.class]; b.visit != now.visit && now.day-b.day < wait {
			j.object(RuleWait, rig.ID, now.day, now.visit, "class %d only %d days after class %d, not %d", now.class, now.day-b.day, b.class, wait)
		}
	}
}
