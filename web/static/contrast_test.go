package static

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Pairs of tokens that meet on a page. Text needs 4.5 to 1, edges and marks
// 3 to 1 (WCAG 2.2, success criteria 1.4.3 and 1.4.11).
var pairs = []struct {
	front, back string
	least       float64
}{
	{"ink", "paper", 4.5}, {"ink", "card", 4.5}, {"ink", "light", 4.5}, {"ink", "dusk", 4.5}, {"ink", "work-soft", 4.5}, {"ink", "ask-soft", 4.5},
	{"soft", "paper", 4.5}, {"soft", "card", 4.5}, {"soft", "dusk", 4.5},
	{"ask", "paper", 4.5}, {"ask", "card", 4.5}, {"ask", "ask-soft", 4.5}, {"ask", "light", 4.5}, {"ask", "dusk", 4.5},
	{"on-ask", "ask", 4.5}, {"on-work", "work", 4.5},
	{"edge", "paper", 3}, {"edge", "card", 3}, {"work", "paper", 3}, {"work", "light", 3}, {"work", "dusk", 3}, {"wash", "light", 3}, {"wash", "dusk", 3},
	{"yard", "light", 3}, {"yard", "dusk", 3},
}

func TestContrastInBothThemes(t *testing.T) {
	themes := themesOf(t)
	for theme, tokens := range themes {
		for _, pair := range pairs {
			front, back := tokens[pair.front], tokens[pair.back]
			if front == "" || back == "" {
				t.Errorf("%s: token %s or %s is not there", theme, pair.front, pair.back)
				continue
			}
			if got := contrast(front, back); got < pair.least {
				t.Errorf("%s: %s (%s) on %s (%s) has %.2f to 1, needs %.1f", theme, pair.front, front, pair.back, back, got, pair.least)
			}
		}
	}
}

// The formula's own bounds: black on white is 21 to 1, a colour on itself 1;
// #767676 on white is the well-known lightest grey that passes 4.5.
func TestContrastFormula(t *testing.T) {
	for _, test := range []struct {
		front, back string
		want        float64
	}{{"#000", "#fff", 21}, {"#38573f", "#38573f", 1}, {"#767676", "#ffffff", 4.54}} {
		if got := contrast(test.front, test.back); math.Abs(got-test.want) > 0.005 {
			t.Errorf("%s on %s: %.3f, want %.2f", test.front, test.back, got, test.want)
		}
	}
}

var (
	rootBlock = regexp.MustCompile(`:root\s*{([^}]*)}`)
	token     = regexp.MustCompile(`--([a-z-]+):\s*(#[0-9a-fA-F]{3,6})`)
)

// themesOf reads the tokens of the stylesheet: the first block is light, the
// second changes it for dark.
func themesOf(t *testing.T) map[string]map[string]string {
	t.Helper()
	css, err := File("drawbar.css")
	if err != nil {
		t.Fatal(err)
	}
	blocks := rootBlock.FindAllStringSubmatch(string(css), 2)
	if len(blocks) != 2 {
		t.Fatal("the stylesheet does not begin with two sets of tokens")
	}
	light, dark := map[string]string{}, map[string]string{}
	for _, m := range token.FindAllStringSubmatch(blocks[0][1], -1) {
		light[m[1]], dark[m[1]] = m[2], m[2]
	}
	for _, m := range token.FindAllStringSubmatch(blocks[1][1], -1) {
		dark[m[1]] = m[2]
	}
	return map[string]map[string]string{"light": light, "dark": dark}
}

// contrast is the ratio of WCAG 2.2, from relative luminances.
func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(hex string) float64 {
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, _ := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		c := float64(n) / 255
		if c <= 0.04045 {
			c /= 12.92
		} else {
			c = math.Pow((c+0.055)/1.055, 2.4)
		}
		sum += weight * c
	}
	return sum
}
