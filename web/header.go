package web

import "net/http"

// policy lets pages load our own scripts, styles, fonts and pictures, and nothing else from anywhere.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self'; connect-src 'self'; " +
	"media-src 'self' blob:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'; object-src 'none'"

// headers are on every answer. Pages are not kept by browsers, since others may use the same computer next.
func headers(h http.Header, secure bool) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "microphone=(), camera=(), geolocation=()")
	h.Set("Cache-Control", "no-store")
	if secure {
		h.Set("Strict-Transport-Security", "max-age=31536000; includeSubDomains")
	}
}
