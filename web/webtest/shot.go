package webtest

import (
	"os"
	"path/filepath"

	"github.com/chromedp/chromedp"
)

// ShotsVariable names the environment variable that holds the folder for
// pictures; without it Screenshot does nothing.
const ShotsVariable = "DRAWBAR_SHOTS"

// Screenshot writes a picture of the whole page to NAME.png.
func (p *Page) Screenshot(name string) {
	p.t.Helper()
	folder := os.Getenv(ShotsVariable)
	if folder == "" {
		return
	}
	picture := Run(p, "taking a picture", chromedp.FullScreenshot(100))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, name+".png"), picture, 0o644); err != nil {
		p.t.Fatal(err)
	}
}
