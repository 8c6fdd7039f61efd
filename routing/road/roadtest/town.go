package roadtest

import (
	"context"
	"encoding/xml"
	"fmt"
	"strings"
	"testing"

	"drawbar/routing/road/extract"
	"drawbar/routing/road/network"
)

// TownXML writes a small extract from lines of text:
//
//	n ID X Y [key=value …]          a node X metres east, Y metres north of 51° N 1° W
//	w ID n1,n2,… [key=value …]      a way
//	r VALUE FROM VIA TO [key=value …]  a restriction; VIA is a node, or w and a way;
//	                                   VALUE - leaves it to the tags
//
// Spaces in values are written as ~. Lines that begin with # are
// left out.
func TownXML(text string) string {
	var b strings.Builder
	b.WriteString("<osm version=\"0.6\">\n")
	for i, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if len(f) == 0 || strings.HasPrefix(f[0], "#") {
			continue
		}
		switch f[0] {
		case "n":
			node(&b, f)
		case "w":
			way(&b, f)
		case "r":
			restriction(&b, i, f)
		}
	}
	b.WriteString("</osm>\n")
	return b.String()
}

// Origin of a town, and degrees to a metre there on a sphere of 6371008.8 m.
const (
	OriginLat   = 51.0
	OriginLon   = -1.0
	DegreesUp   = 1 / 111195.0797
	DegreesEast = 1 / (111195.0797 * 0.629320391) // cos 51°
)

func node(b *strings.Builder, f []string) {
	var x, y float64
	fmt.Sscan(f[2], &x)
	fmt.Sscan(f[3], &y)
	fmt.Fprintf(b, "<node id=%q version=\"1\" visible=\"true\" lat=\"%.7f\" lon=\"%.7f\">", f[1], OriginLat+y*DegreesUp, OriginLon+x*DegreesEast)
	tags(b, f[4:])
	b.WriteString("</node>\n")
}

func way(b *strings.Builder, f []string) {
	fmt.Fprintf(b, "<way id=%q version=\"1\" visible=\"true\">", f[1])
	for _, ref := range strings.Split(f[2], ",") {
		fmt.Fprintf(b, "<nd ref=%q/>", ref)
	}
	tags(b, f[3:])
	b.WriteString("</way>\n")
}

func restriction(b *strings.Builder, id int, f []string) {
	via, kind := f[3], "node"
	if way, ok := strings.CutPrefix(via, "w"); ok {
		via, kind = way, "way"
	}
	fmt.Fprintf(b, "<relation id=\"%d\" version=\"1\" visible=\"true\">", id+1)
	fmt.Fprintf(b, "<member type=\"way\" ref=%q role=\"from\"/><member type=%q ref=%q role=\"via\"/><member type=\"way\" ref=%q role=\"to\"/>", f[2], kind, via, f[4])
	pairs := append([]string{"type=restriction"}, f[5:]...)
	if f[1] != "-" {
		pairs = append(pairs, "restriction="+f[1])
	}
	tags(b, pairs)
	b.WriteString("</relation>\n")
}

func tags(b *strings.Builder, pairs []string) {
	for _, p := range pairs {
		key, value, _ := strings.Cut(p, "=")
		var v strings.Builder
		_ = xml.EscapeText(&v, []byte(strings.ReplaceAll(value, "~", " ")))
		fmt.Fprintf(b, "<tag k=%q v=\"%s\"/>", key, v.String())
	}
}

// Town imports a small extract written as for TownXML, under the rules of GB.
func Town(t testing.TB, text string) *network.Roads {
	t.Helper()
	roads, _ := TownReport(t, text)
	return roads
}

// TownReport is Town with what the import found.
func TownReport(t testing.TB, text string) (*network.Roads, *extract.Report) {
	t.Helper()
	opts := extract.Options{Format: extract.XML, Region: "GB"}
	roads, report, err := extract.Import(context.Background(), strings.NewReader(TownXML(text)), opts)
	if err != nil {
		t.Fatalf("importing the town: %v", err)
	}
	return roads, report
}
