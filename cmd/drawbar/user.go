package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"

	"drawbar/booking"
	"drawbar/web/session"
)

type userCmd struct {
	Add  userAddCmd  `cmd:"" help:"Add a person and print a link that signs them in."`
	Link userLinkCmd `cmd:"" help:"Print a link that signs a person in, once, for an hour."`

	Password userPasswordCmd `cmd:"" help:"Set a person's password, read from the first line of standard input."`
}

type userAddCmd struct {
	Name  string `required:"" help:"Name of the person."`
	Email string `required:"" help:"Mail address."`
	Role  string `default:"owner" enum:"owner,office,operator" help:"What the person does: owner, office or operator."`
	JSON  bool   `name:"json" help:"Print the result as JSON."`
}

// Run adds a person.
func (u userAddCmd) Run(c *call) error {
	return withApp(c, func(app *App) error {
		p := booking.Person{Name: u.Name, Email: u.Email, Role: booking.Role(u.Role), Active: true}
		if err := p.Check(); err != nil {
			return err
		}
		if err := app.Store.SavePerson(c.ctx, &p); err != nil {
			return err
		}
		return printLink(c, app, p, u.JSON)
	})
}

type userLinkCmd struct {
	Email string `arg:"" help:"Mail address of the person."`
	JSON  bool   `name:"json" help:"Print the result as JSON."`
}

// Run makes a link.
func (u userLinkCmd) Run(c *call) error {
	return withApp(c, func(app *App) error {
		p, err := app.Store.PersonByEmail(c.ctx, u.Email)
		if err != nil {
			return err
		}
		return printLink(c, app, p, u.JSON)
	})
}

type userPasswordCmd struct {
	Email string `arg:"" help:"Mail address of the person."`
}

// Run sets a password. It is not taken from the command line, which other
// users of the machine can see.
func (u userPasswordCmd) Run(c *call) error {
	return withApp(c, func(app *App) error {
		p, err := app.Store.PersonByEmail(c.ctx, u.Email)
		if err != nil {
			return err
		}
		line, err := bufio.NewReader(c.in).ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		hash, err := session.HashPassword(c.ctx, strings.TrimRight(line, "\r\n"))
		if err != nil {
			return err
		}
		if err := app.Store.SetPasswordHash(c.ctx, p.ID, hash); err != nil {
			return err
		}
		_, err = fmt.Fprintf(c.out, "%s signs in with this password now.\n", p.Name)
		return err
	})
}

func printLink(c *call, app *App, p booking.Person, asJSON bool) error {
	url, err := app.Desk.SignInLink(c.ctx, p)
	if err != nil {
		return err
	}
	if asJSON {
		return json.NewEncoder(c.out).Encode(map[string]string{"name": p.Name, "email": p.Email, "role": string(p.Role), "link": url})
	}
	_, err = fmt.Fprintf(c.out, "%s (%s) signs in with this link, once, within an hour:\n%s\n", p.Name, p.Role, url)
	return err
}

// withApp opens the program for one thing and closes it again.
func withApp(c *call, do func(*App) error) (err error) {
	app, err := Open(c.ctx, c.config, c.now, c.log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, app.Close()) }()
	return do(app)
}
