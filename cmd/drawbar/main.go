package main

import (
	"context"
	"fmt"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := run(ctx, os.Args[1:], streams{os.Stdin, os.Stdout, os.Stderr}); err != nil {
		fmt.Fprintln(os.Stderr, "drawbar: "+says(err))
		stop()
		os.Exit(1)
	}
}
