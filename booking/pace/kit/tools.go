package kit

import "drawbar/booking/pace"

func (in *Input) injecting() []Item {
	n := in.head(pace.Inject, pace.LambMark)
	if n == 0 {
		return nil
	}
	return []Item{{
		What: "needles", Amount: perHead(n, headPerNeedle), Unit: "pieces",
		Reckoned: reckon("a new one every %d of %d head, and one to spare", headPerNeedle, n),
		Caution:  "Change needles that are dirty or bent and with each bottle; keep used ones in a sharps box. Inject clean, dry skin only." + label,
	}}
}

func (in *Input) marking() []Item {
	var out []Item
	tag := func(what string, n int, caution string) {
		if n > 0 {
			out = append(out, Item{
				What: what, Amount: withOver(n), Unit: "pieces",
				Reckoned: reckon("%d head and %.0f %% over", n, 100*over), Caution: caution,
			})
		}
	}
	tag("ear tags", in.head(pace.EarTag, pace.LambMark), "Numbers belong to the holding: use the farmer's own tags and note every one put in. Clean the applicator between animals.")
	tag("rings", in.head(pace.LambMark), "Age limits and pain relief for rings and docking are set by law and differ between countries."+label)
	return out
}

func (in *Input) cutting() []Item {
	var out []Item
	if n := in.head(pace.Crutch); n > 0 {
		out = append(out, Item{
			What: "sharp cutters", Amount: perHead(n, headPerBlade), Unit: "pieces",
			Reckoned: reckon("one for %d of %d head, and one to spare", headPerBlade, n),
			Caution:  "Stop the drive before changing cutters. Do not crutch wet sheep.",
		})
	}
	if n := in.head(pace.FootTrim); n > 0 {
		out = append(out, Item{
			What: "knife or shear blades", Amount: perHead(n, headPerKnife), Unit: "pieces",
			Reckoned: reckon("one for %d of %d head, and one to spare", headPerKnife, n),
			Caution:  "Wipe blades with disinfectant between animals and gather the trimmings: foot diseases travel on tools and hands. Do not cut into the quick; leave lame feet to your vet's advice.",
		}, Item{
			What: "disposable gloves", Amount: withOver(2 * n), Unit: "pieces",
			Reckoned: reckon("a pair for each of %d head, and %.0f %% over", n, 100*over),
			Caution:  "Change gloves after each infected animal.",
		})
	}
	return out
}

func (in *Input) scanning() []Item {
	n := in.head(pace.Scan)
	if n == 0 {
		return nil
	}
	return []Item{{
		What: "contact gel", Amount: up(gelPerHead * float64(n) / 1000 * (1 + over)), Unit: "L",
		Reckoned: reckon("%.0f mL a head × %d head and %.0f %% over, in whole litres", gelPerHead, n, 100*over),
		Caution:  "Keep cables and plugs dry and away from feet.",
	}}
}

func (in *Input) washing() Item {
	class := in.Job.Setting.Hygiene
	caution := "Wash off dirt first, mix at the label's rate and keep surfaces wet for the label's time; keep run-off out of drains and streams. Wear gloves and eye protection."
	if class > 1 {
		caution = "This flock may carry disease: clean before you leave, boots and overalls too. " + caution
	}
	return Item{
		What: "disinfectant, ready mixed", Amount: washLitres[class], Unit: "L",
		Reckoned: reckon("rig, tools and boots at hygiene class %d", class), Caution: caution,
	}
}

func (in *Input) fuel() Item {
	hours := in.WorkHours
	reckoned := reckon("%.1f h × %.1f L an hour and %.0f %% in reserve", hours, fuelPerHour, 100*fuelReserve)
	amount := up(hours * fuelPerHour * (1 + fuelReserve))
	if in.Job.Setting.Power {
		amount = up(hours * fuelPerHour * fuelReserve)
		reckoned = reckon("the yard has power; %.0f %% of %.1f h × %.1f L an hour in case it fails", 100*fuelReserve, hours, fuelPerHour)
	}
	return Item{
		What: "fuel for the compressor", Amount: amount, Unit: "L", Reckoned: reckoned,
		Caution: "Fill it cold and outdoors; exhaust kills in closed sheds. Bleed the air before you reach into the crate. Pressure vessels need the inspection your law asks for.",
	}
}
