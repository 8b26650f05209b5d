package web

import (
	"compress/gzip"
	"net/http"
	"strings"
	"sync"
)

var packers = sync.Pool{New: func() any { w, _ := gzip.NewWriterLevel(nil, gzip.BestSpeed); return w }}

// packLeast is the size below which packing saves no packet.
const packLeast = 1024

// A packed writer sends text compressed, once there is enough of it. Pages hold no secrets beside what somebody else can
// put there (posts are told by where they come from, not by a token in the page), so that sizes tell nothing.
type packed struct {
	http.ResponseWriter
	held    []byte // until it is known whether to pack
	status  int
	decided bool
	gz      *gzip.Writer
}

func (p *packed) WriteHeader(status int) {
	if p.decided || p.status != 0 {
		return
	}
	p.status = status
}

func (p *packed) Write(b []byte) (int, error) {
	if !p.decided {
		p.held = append(p.held, b...)
		if len(p.held) < packLeast {
			return len(b), nil
		}
		return len(b), p.decide()
	}
	if p.gz != nil {
		return p.gz.Write(b)
	}
	return p.ResponseWriter.Write(b)
}

// decide sends the header and what was held.
func (p *packed) decide() error {
	p.decided = true
	h := p.Header()
	if h.Get("Content-Type") == "" && len(p.held) > 0 {
		h.Set("Content-Type", http.DetectContentType(p.held))
	}
	if len(p.held) >= packLeast && h.Get("Content-Encoding") == "" && packs(h.Get("Content-Type")) {
		h.Set("Content-Encoding", "gzip")
		h.Add("Vary", "Accept-Encoding")
		h.Del("Content-Length")
		p.gz = packers.Get().(*gzip.Writer)
		p.gz.Reset(p.ResponseWriter)
	}
	if p.status != 0 {
		p.ResponseWriter.WriteHeader(p.status)
	}
	held := p.held
	p.held = nil
	if len(held) == 0 {
		return nil
	}
	_, err := p.Write(held)
	return err
}

func packs(kind string) bool {
	return strings.HasPrefix(kind, "text/") || strings.HasPrefix(kind, "image/svg") || strings.HasPrefix(kind, "application/json")
}

// Flush sends what is there so far.
func (p *packed) Flush() {
	if !p.decided {
		p.decide()
	}
	if p.gz != nil {
		p.gz.Flush()
	}
	http.NewResponseController(p.ResponseWriter).Flush()
}

// close sends the rest.
func (p *packed) close() {
	if !p.decided {
		p.decide()
	}
	if p.gz != nil {
		p.gz.Close()
		p.gz.Reset(nil)
		packers.Put(p.gz)
		p.gz = nil
	}
}

// Unwrap lets deadlines be set on the connection.
func (p *packed) Unwrap() http.ResponseWriter { return p.ResponseWriter }
