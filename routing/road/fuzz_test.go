package road_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"os"
	"testing"

	"drawbar/booking/fault"
	"drawbar/routing/road"
	"drawbar/routing/road/drive"
	"drawbar/routing/road/extract"
	"drawbar/routing/road/roadtest"
)

// FuzzImport puts any file through everything: it is refused with a kind word,
// or its road file opens, and tables on it are exact.
func FuzzImport(f *testing.F) {
	f.Add([]byte(roadtest.TownXML(town)), true)
	f.Add([]byte(`<osm><node id="1" lat="1e300" lon="NaN"/><way id="1"><nd ref="1"/><nd ref="1"/><tag k="highway" v="primary"/></way></osm>`), true)
	f.Add(firstBlob(f), false)
	f.Fuzz(func(t *testing.T, data []byte, text bool) {
		format := extract.PBF
		if text {
			format = extract.XML
		}
		var file bytes.Buffer
		if _, err := road.Import(context.Background(), bytes.NewReader(data), &file, extract.Options{Format: format, Region: "GB"}); err != nil {
			if !fault.Is(err, fault.Invalid) {
				t.Fatalf("refused without a sentence: %v", err)
			}
			return
		}
		m, err := road.Open(file.Bytes())
		if err != nil {
			t.Fatalf("what was imported does not open: %v", err)
		}
		var sites []road.Site
		for _, v := range m.Roads().Vertices[:min(8, len(m.Roads().Vertices))] {
			sites = append(sites, m.Snap([2]float64{float64(v.Lon) / 1e6, float64(v.Lat) / 1e6}))
		}
		for _, v := range []drive.Vehicle{{Towing: true, Kg: 3000, Width: 250}, {}} {
			if diff, err := m.Check(context.Background(), sites, v); err != nil || len(diff) > 0 {
				t.Fatalf("differences %v, error %v", diff, err)
			}
		}
	})
}

// firstBlob is the head of the Delaware extract: four bytes of length, a blob
// header, a blob (wiki: PBF Format), enough to begin with.
func firstBlob(f *testing.F) []byte {
	f.Helper()
	data, err := os.ReadFile(roadtest.Delaware.Path(f))
	if err != nil {
		f.Fatal(err)
	}
	return data[:4+int(binary.BigEndian.Uint32(data))+200]
}
