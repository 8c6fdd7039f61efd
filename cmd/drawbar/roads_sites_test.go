package main

import (
	"errors"
	"strings"
	"testing"

	"drawbar/booking/fault"
)

// RFC 4180: fields may be quoted, and lines may end in CR LF.
func TestSitesAsSpreadsheetsWriteThem(t *testing.T) {
	for _, text := range []string{
		"\ufeffLat,Lon,ID\r\n38.9,-75.6,\"Alder, home\"\r\n\r\n-38.5, 175.25 ,b\r\n",
		"\ufeffid;lat;lon\r\nAlder, home;38,9;-75,6\r\nb;-38,5;175,25\r\n",
	} {
		sites, err := readSites(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if len(sites) != 2 || sites[0].ID != "Alder, home" || sites[0].At.Lat() != 38.9 || sites[1].At.Lon() != 175.25 {
			t.Errorf("%+v", sites)
		}
	}
}

func FuzzSites(f *testing.F) {
	f.Add("id,lat,lon\na,1,2\n")
	f.Add("id,lat,lon\n\"a,1,2\n")
	f.Add("id;lat;lon\na;1,5;2\n")
	f.Add("lon,lat,id\nNaN,1e400,\xff\n")
	f.Fuzz(func(t *testing.T, text string) {
		sites, err := readSites(strings.NewReader(text))
		var told *fault.Error
		if err != nil && !errors.As(err, &told) {
			t.Errorf("%q: %v", text, err)
		}
		seen := map[string]bool{}
		for _, s := range sites {
			if seen[s.ID] || s.ID == "" || !(s.At.Lat() >= -90 && s.At.Lat() <= 90 && s.At.Lon() >= -180 && s.At.Lon() <= 180) {
				t.Errorf("%q gives %+v", text, s)
			}
			seen[s.ID] = true
		}
	})
}
