package main

import (
	"fmt"
	"math"
	"time"

	"drawbar/booking/pace"
	"drawbar/booking/pace/learn"
	"drawbar/booking/say"
)

// lessons is how often the replay learns again on the way.
const lessons = 50

// visitScore is one docket against its prediction, in minutes.
type visitScore struct {
	Docket    string     `json:"docket"`
	Head      int        `json:"head"`
	Predicted pace.Range `json:"predicted"`
	Actual    float64    `json:"actual_minutes"`
}

// scored is what is printed.
type scored struct {
	Visits  []visitScore  `json:"visits"`
	Score   pace.Score    `json:"score"`
	ByHead  [3]pace.Score `json:"by_head"` // thirds, fewest head first
	Without pace.Score    `json:"without_learning"`
}

// score predicts every docket from those before it, in the order they were
// signed.
func (e estimateCmd) score(c *call, app *App) error {
	if err := app.Teacher.Teach(c.ctx); err != nil {
		return err
	}
	priors, err := app.Teacher.Priors(c.ctx)
	if err != nil {
		return err
	}
	dockets, err := app.Jobs.Timings(c.ctx)
	if err != nil {
		return err
	}
	outcomes, err := learn.Replay(priors, dockets, max(1, len(dockets)/lessons))
	if err != nil {
		return err
	}
	plain, err := learn.Replay(priors, dockets, len(dockets)) // one block: nothing before it
	if err != nil {
		return err
	}
	s := scored{Visits: visitScores(outcomes), Score: pace.NewScore(outcomes), ByHead: pace.ScoreByHead(outcomes), Without: pace.NewScore(plain)}
	if e.JSON {
		return printJSON(c.out, s)
	}
	printScore(c, s)
	return nil
}

func visitScores(all []pace.Outcome) []visitScore {
	scores := make([]visitScore, len(all))
	for i, o := range all {
		scores[i] = visitScore{o.ID, o.Head, o.Predicted, math.Round(10*o.Actual.Minutes()) / 10}
	}
	return scores
}

func printScore(c *call, s scored) {
	if len(s.Visits) == 0 {
		fmt.Fprintln(c.out, "There is no signed docket with times yet, so there is nothing to compare.")
		return
	}
	fmt.Fprintf(c.out, "%-36s %6s %10s %10s %10s %10s\n", "docket", "head", "predicted", "80 %", "90 %", "actual")
	for _, v := range s.Visits {
		p := v.Predicted
		fmt.Fprintf(c.out, "%-36s %6d %10s %10s %10s %10s\n", v.Docket, v.Head, say.Length(p.Median), say.Length(p.P80), say.Length(p.P90),
			say.Length(time.Duration(v.Actual*float64(time.Minute))))
	}
	fmt.Fprintf(c.out, "\n%d visits, each predicted from the dockets before it (set-up, work and pack-down, without breaks and wash-down).\n", s.Score.Visits)
	fmt.Fprintf(c.out, "  off by %.0f min on average, %.0f %% of the time; without learning %.0f min\n", s.Score.ErrorMinutes, 100*s.Score.ErrorShare, s.Without.ErrorMinutes)
	fmt.Fprintf(c.out, "  done by the 80 %% time: %.0f %%; by the 90 %% time: %.0f %%\n", 100*s.Score.Within80, 100*s.Score.Within90)
	for i, name := range []string{"few", "some", "many"} {
		fmt.Fprintf(c.out, "  a third with %-4s head: off by %.0f min, 80 %% time %.0f %%, 90 %% time %.0f %%\n",
			name, s.ByHead[i].ErrorMinutes, 100*s.ByHead[i].Within80, 100*s.ByHead[i].Within90)
	}
}
