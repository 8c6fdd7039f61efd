package farmer

import (
	"net/http"
	"strings"

	"drawbar/booking"
	"drawbar/web/session"
	"drawbar/web/view"

	"github.com/gin-gonic/gin"
)

type frontPage struct{ Form *view.Form }

func (f *farmer) front(c *gin.Context) error {
	return view.Render(c, http.StatusOK, pages, "front", frontPage{view.NewForm()})
}

// find mails a link to the address, if it is on file.
func (f *farmer) find(c *gin.Context) error {
	form, err := view.ReadForm(c)
	if err != nil {
		return err
	}
	email := form.Text("email")
	for _, key := range []string{session.Address(c), strings.ToLower(email)} {
		if err := f.finds.Allow(key); err != nil {
			return err
		}
	}
	if err := form.Take(f.Desk.FindFarm(c.Request.Context(), email)); err != nil {
		return err
	}
	if !form.OK() {
		return view.Render(c, form.Status(), pages, "front", frontPage{form})
	}
	return view.Render(c, http.StatusOK, pages, "found", email)
}

// farmLink shows a button, so that a program that looks at links in mails
// does not use it up.
func (f *farmer) farmLink(c *gin.Context) error {
	link, err := f.Store.OpenLink(c.Request.Context(), secretOf(c).Hash(), booking.ToFarm, f.Now())
	if err != nil {
		return err
	}
	farm, err := f.Store.Farm(c.Request.Context(), link.Subject)
	if err != nil {
		return err
	}
	return view.Render(c, http.StatusOK, pages, "farm_link", farm)
}

func (f *farmer) farmSpend(c *gin.Context) error {
	link, err := f.Store.SpendLink(c.Request.Context(), secretOf(c).Hash(), booking.ToFarm, f.Now())
	if err != nil {
		return err
	}
	if err := session.SignInFarm(c, link.Subject); err != nil {
		return err
	}
	return view.See(c, "/book")
}

func secretOf(c *gin.Context) booking.Secret { return booking.Secret(c.Param("secret")) }
