package signin_test

import (
	"fmt"

	"drawbar/booking"
	"drawbar/web/signin"

	"github.com/gin-gonic/gin"
)

func ExampleMount() {
	engine := gin.New()
	signin.Mount(engine, signin.Deps{Desk: &booking.Desk{}, Now: nil})
	for _, route := range engine.Routes() {
		if route.Method == "POST" {
			fmt.Println(route.Path)
		}
	}
	// Unordered output:
	// /sign-in
	// /sign-in/:secret
	// /sign-in/mail
	// /sign-out
	// /account
}
