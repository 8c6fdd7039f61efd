package demo

import (
	"encoding/json"

	"drawbar/booking"
	"drawbar/testdata"

	"github.com/paulmach/orb"
)

// The files of testdata/demo.
type (
	businessFile struct {
		Business struct {
			Name, Address, Email, Phone, Zone, Country, Currency string
			TaxID                                                string `json:"tax_id"`
			HomeName                                             string `json:"home_name"`
			Lat, Lon                                             float64
			FarmersChoose                                        bool `json:"farmers_choose"`
		}
		People []personEntry
		Rigs   []rigEntry
	}
	personEntry struct {
		Key, Name, Email, Phone string
		Role                    booking.Role
		Skills                  []booking.Skill
	}
	rigEntry struct {
		Name                  string
		Mount                 booking.Mount
		SideTilt              bool `json:"side_tilt"`
		WeighBars             bool `json:"weigh_bars"`
		TagReader             bool `json:"tag_reader"`
		SortGates             int  `json:"sort_gates"`
		RacePlaces            int  `json:"race_places"`
		Mass                  int
		Length, Width, Height float64
		Vehicle               booking.Vehicle
		Crew                  []string
		DayStart              string `json:"day_start"`
		DayEnd                string `json:"day_end"`
	}
	farmsFile struct{ Farms []farmEntry }
	farmEntry struct {
		Name, Contact, Email, Phone, Address string
		Hygiene                              booking.Hygiene
		Yards                                []yardEntry
	}
	yardEntry struct {
		Name        string
		Lat, Lon    float64
		Gate, Train float64
		Surface     booking.Surface
		Has         []string
		Access      string
	}
)

// read decodes one of the files.
func read[T any](name string) (T, error) {
	var file T
	data, err := testdata.Demo.ReadFile("demo/" + name)
	if err == nil {
		err = json.Unmarshal(data, &file)
	}
	return file, err
}

// yard turns an entry into a yard of a farm.
func (e yardEntry) yard(farm booking.ID) booking.Yard {
	y := booking.Yard{
		FarmID: farm, Name: e.Name, At: orb.Point{e.Lon, e.Lat}, GateWidth: e.Gate, TrainLength: e.Train,
		Surface: e.Surface, Access: e.Access,
	}
	flags := map[string]*bool{
		"lights": &y.Lights, "power": &y.Power, "forks": &y.Forks, "helper": &y.Helper, "overnight": &y.Overnight, "turning": &y.Turning,
	}
	for _, name := range e.Has {
		*flags[name] = true
	}
	return y
}
