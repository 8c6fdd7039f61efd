package booking

// StandardServices are what a new business starts with; each can be renamed,
// changed or taken off offer, but the codes stay: times are learned by them.
func StandardServices() []Service {
	services := []Service{
		{Code: "drench", Name: "Drench", Advice: "Off feed for some hours if the label says so. We dose to the heaviest of the group; product, dose and withdrawal follow the label and your vet."},
		{Code: "inject", Name: "Injection", Advice: "Have the product, its label and the prescription ready. What is given follows the label and your vet."},
		{Code: "ear-tag", Name: "Ear tag", Advice: "Have tags and the list of numbers in the yard."},
		{Code: "weigh", Name: "Weigh", WeighBars: true, Advice: "Dry animals off wet ground give truer weights."},
		{Code: "sort", Name: "Sort", Advice: "Tell us which way each group goes; three ways by hand, more lists with powered gates."},
		{Code: "condition", Name: "Condition score", Advice: "Nothing to prepare; a sample of each mob is often enough."},
		{Code: "foot-check", Name: "Foot check", SideTilt: true, Advice: "Pen them on dry ground the night before."},
		{Code: "foot-trim", Name: "Foot trim", SideTilt: true, Skill: SkillFootTrim, Advice: "Dry, clean feet. Lame ones in a pen of their own, worked last."},
		{Code: "crutch", Name: "Crutch", Skill: SkillCrutch, Advice: "Dry sheep only; keep them in overnight if rain is coming."},
		{Code: "scan", Name: "Scan", Skill: SkillScan, Scanning: true, Advice: "Off feed for a couple of hours; give the days the rams or bucks went in and came out."},
		{Code: "lamb-mark", Name: "Lamb marking", Advice: "Ewes and young together in one pen. Age limits for rings and docking are set by local law; ask your vet."},
		{Code: "pour-on", Name: "Pour-on", Advice: "Dry backs, and no rain for some hours after; follow the label."},
	}
	for i := range services {
		services[i].Offered, services[i].Position = true, i+1
	}
	return services
}
