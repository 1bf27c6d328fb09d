package web

import (
	"encoding/json"
	"net"
	"net/http"
	"net/netip"
	"runtime/debug"
	"strings"

	"leste/web/api"
)

// policy of the pages: nothing but what this server holds; styles and scripts from files only.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; " +
	"connect-src 'self'; frame-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"

// guard lets through what a page of this server, or a program on this machine, may ask.
type guard struct {
	next    http.Handler
	hosts   map[string]bool // names that the server answers to
	network bool            // it answers to every address of the machine
	origins *http.CrossOriginProtection
	report  func(fault any, stack []byte)
}

func newGuard(next http.Handler, host string, network bool, report func(any, []byte)) *guard {
	g := &guard{
		next: next, network: network, origins: http.NewCrossOriginProtection(), report: report,
		hosts: map[string]bool{"localhost": true, "127.0.0.1": true, "::1": true},
	}
	if host != "" {
		g.hosts[strings.ToLower(strings.Trim(host, "[]"))] = true
	}
	return g
}

// ServeHTTP implements http.Handler.
func (g *guard) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), microphone=(), geolocation=(), payment=(), usb=()")
	if strings.HasPrefix(r.URL.Path, "/api/") {
		h.Set("Cache-Control", "no-store")
	}
	defer g.recover(w)
	switch {
	case !g.known(r.Host):
		sayFault(w, http.StatusMisdirectedRequest, "This server does not answer to that name")
	case g.foreign(r):
		sayFault(w, http.StatusForbidden, "A page of another site may not use the desk")
	default:
		g.next.ServeHTTP(w, r)
	}
}

// known reports whether a request names this server. A name that somebody else's server has pointed to this machine
// is not one of its names; bare addresses cannot be pointed anywhere.
func (g *guard) known(hostPort string) bool {
	host, _, err := net.SplitHostPort(hostPort)
	if err != nil {
		host = hostPort
	}
	host = strings.ToLower(strings.Trim(host, "[]"))
	if g.hosts[host] {
		return true
	}
	addr, err := netip.ParseAddr(host)
	return err == nil && (g.network || addr.IsLoopback())
}

// foreign reports whether a page of another site asks for more than to show the desk.
func (g *guard) foreign(r *http.Request) bool {
	if g.origins.Check(r) != nil {
		return true
	}
	site := r.Header.Get("Sec-Fetch-Site")
	if site == "" || site == "same-origin" || site == "none" {
		return false
	}
	follows := r.Method == http.MethodGet && r.Header.Get("Sec-Fetch-Mode") == "navigate" && r.Header.Get("Sec-Fetch-Dest") == "document"
	return !follows || strings.HasPrefix(r.URL.Path, "/api/")
}

// recover keeps a fault of one request from taking the others down.
func (g *guard) recover(w http.ResponseWriter) {
	fault := recover()
	if fault == nil {
		return
	}
	if fault == http.ErrAbortHandler { //nolint:errorlint // it is compared as the standard library compares it
		panic(fault)
	}
	g.report(fault, debug.Stack())
	sayFault(w, http.StatusInternalServerError, "The program has a fault; the terminal it was started in says which")
}

// sayFault answers with a fault in the form of the operations.
func sayFault(w http.ResponseWriter, status int, text string) {
	w.Header().Set("Content-Type", "application/problem+json")
	w.WriteHeader(status)
	code := "request"
	switch {
	case status == http.StatusNotFound:
		code = "not found"
	case status >= http.StatusInternalServerError:
		code = "internal"
	}
	e := json.NewEncoder(w)
	if err := e.Encode(api.Fault{Status: status, Code: code, Text: text, Problems: []api.Problem{}}); err != nil {
		return // the browser has gone
	}
}
