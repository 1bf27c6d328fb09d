package web

import (
	"context"
	_ "embed" // for the demonstration and the description
	"errors"
	"fmt"
	"io/fs"
	"log"
	"net"
	"net/http"
	"net/netip"
	"strconv"
	"strings"
	"sync"
	"time"

	"github.com/klauspost/compress/gzhttp"

	"leste/catalogue"
	"leste/web/answer"
	"leste/web/api"
	"leste/web/document"
)

// Demo is the name of the demonstration among the jobs.
const Demo = "demo"

//go:embed demo.yaml
var demo []byte

//go:embed openapi.json
var description []byte

// UsualPort is the port that the desk takes when it is free.
const UsualPort = 4319

// Options say what is served and to whom.
type Options struct {
	Target  string           // a folder of job files, or one job file
	Listen  string           // address to listen on; "" is this machine only
	Port    int              // 0 is the usual one, or any that is free when it is taken; below 0 is any
	Network bool             // addresses that other machines can reach are allowed
	Version string           // of the program
	Cold    bool             // answer nothing before somebody asks
	Parts   *catalogue.Parts // that jobs are answered with; nil is the generic set
	Log     *log.Logger
}

// A Server is a desk that is open. Close it after use.
type Server struct {
	URL string

	http     *http.Server
	listener net.Listener
	folder   *document.Folder
	answers  *answer.Keeper
	closing  chan struct{}
	served   chan error
	work     sync.WaitGroup
}

// ErrReachable says that an address was given which other machines can reach.
var ErrReachable = errors.New("other machines can reach that address, and everybody who can may read and change the jobs; allow it with --network if that is meant")

// Open opens the folder, listens, and begins to serve.
func Open(ctx context.Context, o Options) (*Server, error) {
	host := o.Listen
	if host == "" {
		host = "127.0.0.1"
	}
	if !o.Network && !loopback(host) {
		return nil, fmt.Errorf("%s: %w", host, ErrReachable)
	}
	if o.Log == nil {
		o.Log = log.New(discard{}, "", 0)
	}
	folder, err := document.OpenFolder(o.Target)
	if err != nil {
		return nil, fmt.Errorf("the jobs cannot be opened: %w", err)
	}
	listener, err := listen(ctx, host, o.Port)
	if err != nil {
		return nil, errors.Join(err, folder.Close())
	}
	report := func(fault any, stack []byte) {
		o.Log.Printf("the program has a fault; please report it with the job file: %v\n%s", fault, stack)
	}
	s := &Server{
		listener: listener, folder: folder, answers: answer.NewKeeper(o.Parts, report), closing: make(chan struct{}), served: make(chan error, 1),
	}
	first := folder.One()
	if first == "" {
		folder.Keep(Demo, demo)
	}
	files, err := fs.Sub(dist, "dist")
	if err != nil {
		return nil, errors.Join(err, listener.Close(), folder.Close())
	}
	_, port, err := net.SplitHostPort(listener.Addr().String())
	if err != nil {
		return nil, errors.Join(err, listener.Close(), folder.Close())
	}
	s.URL = "http://" + net.JoinHostPort(shown(host), port) + "/"
	handler, err := s.handler(api.Options{Folder: folder, Answers: s.answers, Parts: o.Parts, Version: o.Version, First: first, Demo: demoName(first), Closing: s.closing}, newScreens(files))
	if err != nil {
		return nil, errors.Join(err, listener.Close(), folder.Close())
	}
	s.http = &http.Server{
		Handler:           newGuard(handler, o.Listen, o.Network, report),
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, IdleTimeout: 2 * time.Minute, MaxHeaderBytes: 32 << 10,
		ErrorLog: log.New(discard{}, "", 0), // what clients do wrong is told to them
	}
	go func() { s.served <- s.http.Serve(listener) }()
	s.work.Go(s.idle)
	if !o.Cold {
		s.warm(first)
	}
	return s, nil
}

func demoName(first string) string {
	if first == "" {
		return Demo
	}
	return ""
}

// warm answers the job that is opened first, while the browser is still on its way.
func (s *Server) warm(first string) {
	if first == "" {
		first = Demo
	}
	if d, err := s.folder.Get(first); err == nil {
		s.answers.Warm(d)
	}
}

// handler joins operations and screens, compressed.
func (s *Server) handler(o api.Options, pages http.Handler) (http.Handler, error) {
	mux := http.NewServeMux()
	api.Register(mux, o)
	mux.HandleFunc("GET /api/openapi.json", func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "application/json")
		if _, err := w.Write(description); err != nil {
			return // the browser has gone
		}
	})
	mux.Handle("/", pages)
	compress, err := gzhttp.NewWrapper(gzhttp.MinSize(1<<10), gzhttp.CompressionLevel(1), gzhttp.EnableZstd(false))
	if err != nil {
		return nil, fmt.Errorf("answers cannot be compressed: %w", err)
	}
	return apiFaults(compress(mux), mux), nil
}

// apiFaults answers below /api with a fault where no operation is meant, instead of a page.
func apiFaults(next http.Handler, mux *http.ServeMux) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		_, pattern := mux.Handler(r)
		if !strings.HasPrefix(r.URL.Path, "/api/") || pattern != "/" && pattern != "" {
			next.ServeHTTP(w, r)
			return
		}
		var allowed []string
		for _, method := range []string{http.MethodGet, http.MethodPost, http.MethodPut, http.MethodPatch, http.MethodDelete} {
			other := r.Clone(r.Context())
			other.Method = method
			if _, p := mux.Handler(other); p != "/" && p != "" {
				allowed = append(allowed, method)
			}
		}
		if len(allowed) == 0 {
			sayFault(w, http.StatusNotFound, "There is no such operation")
			return
		}
		w.Header().Set("Allow", strings.Join(allowed, ", "))
		sayFault(w, http.StatusMethodNotAllowed, "That cannot be done there; "+strings.Join(allowed, ", ")+" can")
	})
}

// Wait serves until the context ends or the server fails, and then closes down.
func (s *Server) Wait(ctx context.Context) error {
	select {
	case <-ctx.Done():
		return s.Close()
	case err := <-s.served:
		s.served <- http.ErrServerClosed
		return errors.Join(fmt.Errorf("the desk cannot go on: %w", err), s.Close())
	}
}

// patience is how long requests may take to end when the desk is closed.
const patience = 2 * time.Second

// Close ends streams, searches and answers, and waits for all of them.
func (s *Server) Close() error {
	close(s.closing)
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	s.answers.Close()
	s.work.Wait()
	err := s.http.Shutdown(ctx)
	if errors.Is(err, context.DeadlineExceeded) {
		err = s.http.Close()
	}
	if e := <-s.served; !errors.Is(e, http.ErrServerClosed) {
		err = errors.Join(err, e)
	}
	return errors.Join(err, s.folder.Close())
}

// listen listens on a port, or where none was chosen and the usual one is taken, on any.
func listen(ctx context.Context, host string, port int) (net.Listener, error) {
	var c net.ListenConfig
	wanted := max(port, 0)
	if port == 0 {
		wanted = UsualPort
	}
	l, err := c.Listen(ctx, "tcp", net.JoinHostPort(host, strconv.Itoa(wanted)))
	if err != nil && port == 0 {
		l, err = c.Listen(ctx, "tcp", net.JoinHostPort(host, "0"))
	}
	if err != nil {
		return nil, fmt.Errorf("port %d of %s cannot be had: %w", wanted, host, err)
	}
	return l, nil
}

// loopback reports whether only this machine can reach an address.
func loopback(host string) bool {
	if strings.EqualFold(host, "localhost") {
		return true
	}
	addr, err := netip.ParseAddr(strings.Trim(host, "[]"))
	return err == nil && addr.IsLoopback()
}

// shown is an address that a browser on this machine can open.
func shown(host string) string {
	if addr, err := netip.ParseAddr(strings.Trim(host, "[]")); err == nil && addr.IsUnspecified() {
		return "127.0.0.1"
	}
	return strings.Trim(host, "[]")
}

// discard is a writer to nowhere.
type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }
