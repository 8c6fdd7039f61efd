package board

import (
	"net/http"
	"strconv"
	"time"

	"drawbar/booking"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// changesPage is the record of who changed what, newest first.
type changesPage struct {
	Changes []booking.Change
	Older   string // the query of the next page; "" at the end
}

const changesAtOnce = 100

func (b *board) changes(c *gin.Context) error {
	q := booking.ChangeQuery{Limit: changesAtOnce}
	if ms, err := strconv.ParseInt(c.Query("before"), 10, 64); err == nil && ms > 0 {
		q.Before = time.UnixMilli(ms)
	}
	all, err := b.Store.Changes(c.Request.Context(), q)
	if err != nil {
		return err
	}
	page := changesPage{Changes: all}
	if len(all) == changesAtOnce {
		page.Older = strconv.FormatInt(all[len(all)-1].At.UnixMilli(), 10)
	}
	return view.Render(c, http.StatusOK, pages, "changes", page)
}
