package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime/pprof"
	"time"

	"drawbar/routing/round"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Args[1:], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "roundbench:", err)
		os.Exit(1)
	}
}

// run measures every instance of the folder named in args.
func run(ctx context.Context, args []string, out io.Writer) error {
	flags := flag.NewFlagSet("roundbench", flag.ContinueOnError)
	seconds := flags.Float64("seconds", 10, "time for each instance")
	iterations := flags.Int("iterations", 0, "stop after so many instead, whatever the time")
	seed := flags.Uint64("seed", 1, "seed of the search")
	visits := flags.Int("season", 0, "instead of a folder, plan a made-up season of so many visits; -1 = 50 to 800")
	cpu := flags.Bool("cpu", false, "count time on the processor, not on the wall")
	profile := flags.String("cpuprofile", "", "write a CPU profile to this file")
	match := flags.String("match", "*.txt", "which files of the folder")
	if err := flags.Parse(args); err != nil {
		return err
	}
	if flags.NArg() != 1 && *visits == 0 || *seconds <= 0 {
		return fmt.Errorf("give one folder with instances and a time above 0")
	}
	if *profile != "" {
		stop, err := startProfile(*profile)
		if err != nil {
			return err
		}
		defer stop()
	}
	now := time.Now
	if *cpu {
		now = cpuClock
	}
	b := bench{ctx: ctx, out: out, now: now, seed: *seed, iterations: *iterations, budget: time.Duration(*seconds * float64(time.Second))}
	switch {
	case *visits < 0:
		return b.grow([]int{50, 100, 200, 400, 800}, b.budget, longer*b.budget)
	case *visits > 0:
		return b.grow([]int{*visits}, b.budget)
	}
	return b.folder(flags.Arg(0), *match)
}

// longer is how many times as long seasons of growing size are planned again.
const longer = 6

// bench runs instances and prints as it goes.
type bench struct {
	ctx        context.Context
	out        io.Writer
	now        func() time.Time
	seed       uint64
	iterations int
	budget     time.Duration
	report     report
}

func (b *bench) folder(dir, match string) error {
	best, err := bestKnown(filepath.Join(dir, "best-known.csv"))
	if err != nil {
		return err
	}
	files, err := filepath.Glob(filepath.Join(dir, match))
	if err != nil {
		return err
	}
	for _, file := range files {
		in, err := readFile(file)
		if in == nil && err == nil {
			continue
		}
		if err == nil {
			err = b.instance(in, best[in.name])
		}
		if err != nil {
			return fmt.Errorf("%s: %w", filepath.Base(file), err)
		}
	}
	b.report.print(b.out)
	return nil
}

func readFile(name string) (*instance, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return read(f)
}

// options stop after the iterations, or at the end of a budget when none are
// given.
func (b *bench) options(start time.Time, budget time.Duration) round.Options {
	o := round.Options{Seed: b.seed, Iterations: b.iterations, Now: b.now}
	if b.iterations == 0 {
		o.Iterations = 1 << 40
		o.Deadline = start.Add(budget)
	}
	return o
}

// instance solves one instance and prints its line.
func (b *bench) instance(in *instance, best float64) error {
	p, err := in.problem()
	if err != nil {
		return err
	}
	start := b.now()
	plan, err := round.Solve(b.ctx, p, b.options(start, b.budget))
	if err != nil {
		return err
	}
	took := b.now().Sub(start)
	if wrong := round.Validate(p, plan); len(wrong) > 0 {
		return fmt.Errorf("the referee objects: %v", wrong[0])
	}
	distance, vehicles, err := in.distance(plan)
	if err != nil {
		return err
	}
	row := result{in.name, vehicles, distance, best, float64(plan.Search.Iterations) / took.Seconds()}
	b.report.add(row)
	row.print(b.out)
	return nil
}

// startProfile profiles until stop is called.
func startProfile(name string) (stop func(), err error) {
	f, err := os.Create(name)
	if err != nil {
		return nil, err
	}
	if err := pprof.StartCPUProfile(f); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return func() {
		pprof.StopCPUProfile()
		if err := f.Close(); err != nil {
			fmt.Fprintln(os.Stderr, "roundbench:", err)
		}
	}, nil
}
