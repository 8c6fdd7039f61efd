package main

import (
	"context"
	"errors"
	"log/slog"
	"net"
	"net/http"
	"syscall"
	"time"

	"drawbar/booking/fault"

	"golang.org/x/sync/errgroup"
)

type serveCmd struct {
	Work bool `negatable:"" default:"true" help:"Do the background work as well; --no-work where other processes do it."`
}

// Run serves until the context ends.
func (s serveCmd) Run(c *call) (err error) {
	app, err := Open(c.ctx, c.config, c.now, c.log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, app.Close()) }()
	listener, err := listen(c.config.Listen)
	if err != nil {
		return err
	}
	c.log.Info("serving", "address", "http://"+listener.Addr().String())
	if !s.Work {
		return app.Serve(c.ctx, listener)
	}
	return app.ServeAndWork(c.ctx, listener)
}

type workCmd struct{}

// Run works until the context ends.
func (workCmd) Run(c *call) (err error) {
	app, err := Open(c.ctx, c.config, c.now, c.log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, app.Close()) }()
	c.log.Info("working")
	group, ctx := errgroup.WithContext(c.ctx)
	group.Go(func() error { return app.follow(ctx) })
	group.Go(func() error { return app.work.run(ctx) })
	return group.Wait()
}

// listen takes the address, or says who may have it.
func listen(address string) (net.Listener, error) {
	listener, err := net.Listen("tcp", address)
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fault.Newf(fault.Conflict, "Something is served on %s already. Stop it, or choose another address with --listen 127.0.0.1:8081 (and --url to match).", address)
	}
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "Nothing can be served on "+address+"; give an address such as 127.0.0.1:8080.")
	}
	return listener, nil
}

// ServeAndWork answers requests and does the background work until the
// context ends, then finishes what it has begun.
func (a *App) ServeAndWork(ctx context.Context, listener net.Listener) error {
	group, ctx := errgroup.WithContext(ctx)
	group.Go(func() error { return a.work.run(ctx) })
	group.Go(func() error { return a.Serve(ctx, listener) })
	return group.Wait()
}

// Serve answers requests until the context ends, then finishes those it has
// begun. It closes the listener.
func (a *App) Serve(ctx context.Context, listener net.Listener) error {
	handler, err := a.Handler()
	if err != nil {
		return errors.Join(err, listener.Close())
	}
	server := &http.Server{
		Handler:           handler,
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, IdleTimeout: 2 * time.Minute,
		ErrorLog: slog.NewLogLogger(a.Log.Handler(), slog.LevelDebug),
	}
	group, ctx := errgroup.WithContext(ctx)
	group.Go(func() error { return a.follow(ctx) })
	group.Go(func() error {
		if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
			return err
		}
		return nil
	})
	group.Go(func() error {
		<-ctx.Done()
		stop, cancel := context.WithTimeout(context.WithoutCancel(ctx), stopTime)
		defer cancel()
		return server.Shutdown(stop)
	})
	return group.Wait()
}
