package booking

import (
	"regexp"

	"drawbar/booking/fault"
)

// Service is what is done to each head.
type Service struct {
	Code      string // lasting short name, such as foot-trim
	Name      string // as shown: "Foot trim"
	SideTilt  bool   // needs a rig that tilts
	WeighBars bool
	TagReader bool
	SortGates int    // powered gates needed; by-hand sorting needs none
	Skill     Skill  // somebody in the crew needs it; "" for none
	Scanning  bool   // the day depends on when the males were in and out
	Advice    string // what the farmer should prepare, one or two sentences
	Offered   bool
	Position  int // order in lists
	// The product that is given, as its label has it; "" where none is or
	// nobody has told. Either MgPerKg and MgPerML, or MLPerHead for a dose that
	// is the same at every weight.
	Product   string
	MgPerKg   float64
	MgPerML   float64
	MLPerHead float64
	Packs     []int // mL in a pack, each size it is sold in
	Version   int
}

var codePattern = regexp.MustCompile(`^[a-z][a-z-]{1,29}$`)

// Check says what is wrong with the entries, field by field.
func (s Service) Check() error {
	f := fault.Fields{}
	if !codePattern.MatchString(s.Code) {
		f.Add("code", "Use 2 to 30 small letters and hyphens, such as foot-trim.")
	}
	f.Text("name", s.Name, 60, fault.Required)
	f.Text("advice", s.Advice, 400, fault.Optional)
	f.Range("sort_gates", float64(s.SortGates), 0, 3, "powered gates")
	if s.Skill != "" && !oneOf(s.Skill, Skills) {
		f.Add("skill", "Choose a skill from the list, or none.")
	}
	s.checkProduct(f)
	return f.Err()
}

// ByCode indexes services by code.
func ByCode(services []Service) map[string]Service {
	byCode := make(map[string]Service, len(services))
	for _, s := range services {
		byCode[s.Code] = s
	}
	return byCode
}
