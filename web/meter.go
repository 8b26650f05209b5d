package web

import (
	"net/http"
	"strconv"
	"time"

	"github.com/prometheus/client_golang/prometheus"
	"github.com/prometheus/client_golang/prometheus/collectors"
	"github.com/prometheus/client_golang/prometheus/promhttp"
)

// A meter counts requests by route, never by who sent them.
type meter struct {
	all   *prometheus.Registry
	took  *prometheus.HistogramVec
	total *prometheus.CounterVec
	open  prometheus.Gauge
}

func newMeter() *meter {
	m := &meter{
		all: prometheus.NewRegistry(),
		took: prometheus.NewHistogramVec(prometheus.HistogramOpts{Name: "steelyard_request_seconds", Help: "Time to answer a request.",
			Buckets: []float64{.001, .0025, .005, .01, .025, .05, .1, .25, .5, 1, 2.5, 10}}, []string{"route"}),
		total: prometheus.NewCounterVec(prometheus.CounterOpts{Name: "steelyard_requests_total", Help: "Requests answered."}, []string{"route", "status"}),
		open:  prometheus.NewGauge(prometheus.GaugeOpts{Name: "steelyard_requests_open", Help: "Requests being answered."}),
	}
	m.all.MustRegister(m.took, m.total, m.open, collectors.NewGoCollector(), collectors.NewProcessCollector(collectors.ProcessCollectorOpts{}))
	return m
}

func (m *meter) count(route string, status int, took time.Duration, live bool) {
	m.total.WithLabelValues(route, strconv.Itoa(status)).Inc()
	if !live {
		m.took.WithLabelValues(route).Observe(took.Seconds())
	}
}

func (m *meter) handler() http.Handler {
	return promhttp.HandlerFor(m.all, promhttp.HandlerOpts{})
}
