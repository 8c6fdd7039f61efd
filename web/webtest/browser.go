package webtest

import (
	"context"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// View is the size of a window in CSS pixels, and whether it is touched.
type View struct {
	Width, Height int64
	Touch         bool
}

// The two sizes that every screen is made for.
var (
	Desktop = View{Width: 1280, Height: 900}
	Phone   = View{Width: 390, Height: 844, Touch: true}
)

// programs are the names Chromium goes by, in order of preference.
var programs = []string{"chromium", "chromium-browser", "chrome", "google-chrome"}

// Browser is a running browser with no memory of earlier runs.
type Browser struct {
	t   testing.TB
	ctx context.Context
}

// Start starts a browser that ends with the test. It has no WebGL, like a
// machine without a graphics driver.
func Start(t testing.TB) *Browser {
	t.Helper()
	return start(t, chromedp.Flag("disable-3d-apis", true))
}

// StartWithWebGL starts a browser that draws in software what others draw with
// the graphics card.
func StartWithWebGL(t testing.TB) *Browser {
	t.Helper()
	return start(t, chromedp.Flag("enable-unsafe-swiftshader", true), chromedp.Flag("use-angle", "swiftshader"), chromedp.Flag("use-gl", "angle"))
}

func start(t testing.TB, own ...chromedp.ExecAllocatorOption) *Browser {
	t.Helper()
	program := find(programs)
	if program == "" {
		t.Fatalf("Chromium is missing. On Debian: sudo apt-get install -y chromium")
	}
	profile, err := os.MkdirTemp("", "drawbar-browser")
	if err != nil {
		t.Fatal(err)
	}
	allocator, release := chromedp.NewExecAllocator(context.Background(), append(flags(program, profile), own...)...)
	ctx, _ := chromedp.NewContext(allocator)
	t.Cleanup(func() {
		stop(ctx)
		release()
		_ = os.RemoveAll(profile) // the system's clean-up takes the rest
	})
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("starting %s: %v", program, err)
	}
	return &Browser{t: t, ctx: ctx}
}

func find(names []string) string {
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// flags keep the browser from asking anyone anything: no updates, no
// synchronising, no first-run pages.
func flags(program, profile string) []chromedp.ExecAllocatorOption {
	options := append(chromedp.DefaultExecAllocatorOptions[:],
		chromedp.ExecPath(program),
		chromedp.UserDataDir(profile),
		chromedp.DisableGPU,
		chromedp.Flag("disable-quic", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("hide-scrollbars", true),
		chromedp.Flag("lang", "en-GB"),
		chromedp.WSURLReadTimeout(time.Minute),
	)
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // Chromium refuses to sandbox for root
	}
	return options
}

// stop asks the browser to close, and insists after a while.
func stop(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, 10*time.Second)
	defer cancel()
	_ = chromedp.Cancel(ctx) // a browser that is gone already is fine
}
