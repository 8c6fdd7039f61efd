package web

import (
	"context"
	"net/http"
	"strconv"
	"time"

	"drawbar/migrations"
	"drawbar/migrations/db"

	"github.com/gin-gonic/gin"
	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// meter counts requests for /metrics.
type meter struct {
	registry *prometheus.Registry
	seconds  *prometheus.HistogramVec
}

// newMeter counts requests, and the notices that wait where unsent is given.
func newMeter(unsent func(context.Context) (int, error)) *meter {
	m := &meter{
		registry: prometheus.NewRegistry(),
		seconds: prometheus.NewHistogramVec(prometheus.HistogramOpts{
			Name: "drawbar_request_seconds", Help: "Time to answer, by route and status.", Buckets: prometheus.DefBuckets,
		}, []string{"route", "status"}),
	}
	m.registry.MustRegister(m.seconds, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	if unsent != nil {
		m.registry.MustRegister(prometheus.NewGaugeFunc(prometheus.GaugeOpts{
			Name: "drawbar_notices_unsent", Help: "Notices that wait to be mailed; -1 when that cannot be told.",
		}, func() float64 { return waiting(unsent) }))
	}
	return m
}

func waiting(unsent func(context.Context) (int, error)) float64 {
	ctx, cancel := context.WithTimeout(context.Background(), probeTime)
	defer cancel()
	n, err := unsent(ctx)
	if err != nil {
		return -1
	}
	return float64(n)
}

// note counts by route, not by address: addresses can hold secrets.
func (m *meter) note(c *gin.Context, took time.Duration) {
	route := c.FullPath()
	if route == "" {
		route = "none"
	}
	m.seconds.WithLabelValues(route, strconv.Itoa(c.Writer.Status())).Observe(took.Seconds())
}

const probeTime = 5 * time.Second

// mountProbes adds what watches the program: /healthz while it runs, /readyz
// while it can serve, /metrics for counters.
func mountProbes(r gin.IRouter, d *db.DB, m *meter) {
	r.GET("/healthz", func(c *gin.Context) { c.String(http.StatusOK, "ok\n") })
	r.GET("/readyz", func(c *gin.Context) {
		ctx, cancel := context.WithTimeout(c.Request.Context(), probeTime)
		defer cancel()
		if err := migrations.Check(ctx, d); err != nil {
			c.String(http.StatusServiceUnavailable, "not ready\n")
			return
		}
		c.String(http.StatusOK, "ready\n")
	})
	r.GET("/metrics", gin.WrapH(promhttp.HandlerFor(m.registry, promhttp.HandlerOpts{})))
	r.GET("/robots.txt", func(c *gin.Context) { c.String(http.StatusOK, "User-agent: *\nDisallow: /\n") })
}
