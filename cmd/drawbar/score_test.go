package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"drawbar/jobs"
)

// Every standing docket of the demo with times is set against what would have
// been predicted of it, and the time it is held to is the docket's own.
func TestScoreOfTheDemo(t *testing.T) {
	app := demoApp(t)
	var out bytes.Buffer
	c := &call{ctx: t.Context(), streams: streams{out: &out}}
	check(t, estimateCmd{JSON: true}.score(c, app))
	var got struct {
		Visits []struct {
			Docket    string
			Head      int
			Actual    float64        `json:"actual_minutes"`
			Predicted map[string]any `json:"predicted"`
		}
		Score   map[string]float64
		ByHead  []map[string]float64 `json:"by_head"`
		Without map[string]float64   `json:"without_learning"`
	}
	check(t, json.Unmarshal(out.Bytes(), &got))
	dockets, err := app.Jobs.SignedDockets(t.Context(), jobs.DocketQuery{Standing: true})
	check(t, err)
	byID := map[string]jobs.SignedDocket{}
	for _, d := range dockets {
		byID[string(d.ID)] = d
	}
	if len(got.Visits) == 0 || len(got.Visits) > len(dockets) || got.Score["visits"] != float64(len(got.Visits)) || got.Without["visits"] != got.Score["visits"] {
		t.Fatalf("%d visits of %d dockets, score %v", len(got.Visits), len(dockets), got.Score)
	}
	sum := 0.0
	for _, v := range got.Visits {
		d := byID[v.Docket]
		work := d.Docket.Worked(d.Docket.SignedAt) + d.Docket.SettingUp()
		if v.Head != d.Head() || v.Actual < math.Floor(work.Minutes()) {
			t.Errorf("docket %s: %d head in %.1f min, it says %d in %s and more", v.Docket, v.Head, v.Actual, d.Head(), work)
		}
		sum += math.Abs(v.Actual - v.Predicted["median_minutes"].(float64))
	}
	if mean := sum / float64(len(got.Visits)); math.Abs(mean-got.Score["error_minutes"]) > 0.1 {
		t.Errorf("off by %.1f min, the score says %.1f", mean, got.Score["error_minutes"])
	}
	out.Reset()
	check(t, estimateCmd{}.score(c, app))
	if !strings.Contains(out.String(), "visits, each predicted from the dockets before it") || !strings.Contains(out.String(), got.Visits[0].Docket) {
		t.Error(out.String())
	}
}
