package farmer

import (
	"net/http/httptest"
	"strings"
	"testing"

	"drawbar/booking"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// FuzzRows reads whatever a form may hold: nothing panics, and no more rows
// come out than a booking may have.
func FuzzRows(f *testing.F) {
	f.Add("mobs=2&mob.0.class=ewe&mob.0.head=240&mob.0.services=drench&mob.1.head=x&windows=1&window.0.from=2026-11-30&do=drop-mob-0")
	f.Add("mobs=99999&windows=-1&do=add-window")
	f.Add("do=drop-mob-&mobs=1;&%zz")
	f.Fuzz(func(t *testing.T, body string) {
		c, _ := gin.CreateTestContext(httptest.NewRecorder())
		c.Request = httptest.NewRequest("POST", "/book", strings.NewReader(body))
		c.Request.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		form, err := view.ReadForm(c)
		if err != nil {
			return // told in a sentence; nothing was read
		}
		edit(form)
		mobs, windows := mobsOf(form), windowsOf(form)
		if len(mobs) < 1 || len(mobs) > booking.MaxMobs || len(windows) < 1 || len(windows) > booking.MaxWindows {
			t.Errorf("%d mobs and %d windows", len(mobs), len(windows))
		}
	})
}
