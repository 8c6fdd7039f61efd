package board

import (
	"net/http"

	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

// visitWhy is the visit's page with the answer to "why here?".
func (b *board) visitWhy(c *gin.Context) error {
	page, err := b.visitPage(c)
	if err != nil {
		return err
	}
	why, err := b.Planner.WhyHere(c.Request.Context(), page.Visit.ID)
	if err != nil {
		return err
	}
	page.Why = &why
	return view.Render(c, http.StatusOK, pages, "visit", page)
}

// Less is an amount without its sign.
func (visitPage) Less(minor int64) int64 { return max(minor, -minor) }
