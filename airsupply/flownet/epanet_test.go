package flownet

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"testing"
)

// Water networks against the EPANET 2.3 engine: ../oracles/epanet.mjs builds the same networks, step by step,
// and wrote the heads and flows in testdata. The laws are the engine's: Darcy-Weisbach with Swamee and Jain's
// friction, Dunlop's cubic in transition; emitters q = c sqrt(p); a pump's one-point curve.

// In the engine's customary units gravity is 32.2 ft/s2 and the viscosity 1.1e-5 ft2/s.
const (
	gravity   = 32.2 * 0.3048
	viscosity = 1.1e-5 * 0.3048 * 0.3048
)

type water struct {
	pipes    []waterPipe // by link
	emitters []float64   // by link: m3/s per sqrt m, 0 for a pipe
	pump     int         // link, -1 without
}

type waterPipe struct{ length, bore, rough float64 }

func (*water) Lag(_, _ []float64) float64 { return 0 }

func (w *water) Loss(i int, q, _, _ float64) (float64, float64) {
	size := math.Abs(q)
	switch {
	case i == w.pump:
		// Shut-off at four thirds of the design head, no head at twice the design flow.
		const head, flow = 30.0, 0.1
		b := head / 3 / (flow * flow)
		return -(4*head/3 - b*q*size), math.Max(2*b*size, 1e-6)
	case w.emitters[i] > 0:
		c := w.emitters[i]
		return q * size / (c * c), math.Max(2*size/(c*c), 1e-3)
	}
	p := w.pipes[i]
	area := math.Pi / 4 * p.bore * p.bore
	re := size * p.bore / (area * viscosity)
	r := p.length / (2 * gravity * p.bore * area * area)
	if re <= 2000 { // Hagen and Poiseuille
		slope := 64 * viscosity * area / p.bore * r
		return slope * q, slope
	}
	f, df := swamee(re, p.rough/p.bore)
	return f * r * q * size, (2*f + df*re) * r * size
}

// swamee returns the friction factor and its derivative with respect to the Reynolds number above 2000.
func swamee(re, rough float64) (f, slope float64) {
	if re >= 4000 {
		y := math.Pow(re, -0.9)
		arg := rough/3.7 + 5.74*y
		l := math.Log10(arg)
		f = 0.25 / (l * l)
		return f, -2 * f / l / (arg * math.Ln10) * 5.74 * -0.9 * y / re
	}
	y2 := rough/3.7 + 5.74*math.Pow(4000, -0.9)
	y3 := -0.86859 * math.Log(y2)
	fa := 1 / (y3 * y3)
	fb := fa * (2 - 0.00514215/(y2*y3))
	x := re / 2000
	x1, x2, x3, x4 := 7*fa-fb, 0.128-17*fa+2.5*fb, -0.128+13*fa-2*fb, 0.032-3*fa+0.5*fb
	return x1 + x*(x2+x*(x3+x*x4)), (x2 + x*(2*x3+3*x*x4)) / 2000
}

// generated repeats the network of the script: the reservoir is node 0, the room beyond the emitters the last.
func generated(pipes int) ([]bool, []float64, []Link, *water) {
	state := int64(pipes + 1)
	random := func() float64 {
		state = state * 16807 % 2147483647
		return float64(state) / 2147483647
	}
	loops := pipes / 50
	nodes := pipes - loops
	fixed, head := make([]bool, nodes+2), make([]float64, nodes+2)
	fixed[0], head[0], fixed[nodes+1] = true, 60, true
	w := &water{pump: -1}
	var links []Link
	parent := make([]int, nodes+1)
	for v := 1; v <= nodes; v++ {
		parent[v] = v - 1 - int(random()*float64(min(v, 30)))
		links = append(links, Link{parent[v], v})
		w.pipes = append(w.pipes, waterPipe{length: float64(10 + int(random()*90)), rough: 0.1e-3})
	}
	emitter, served := make([]bool, nodes+1), make([]int, nodes+1)
	for v := 1; v <= nodes; v++ {
		emitter[v] = v == nodes || random() < 0.2
	}
	for v := nodes; v >= 1; v-- {
		if emitter[v] {
			served[v]++
		}
		served[parent[v]] += served[v]
	}
	for v := 1; v <= nodes; v++ {
		w.pipes[v-1].bore = math.Floor(50*math.Pow(float64(max(served[v], 1)), 0.38)+0.5) * 1e-3
	}
	for range loops {
		a, b := 1+int(random()*float64(nodes)), 1+int(random()*float64(nodes))
		if a == b {
			if b = a - 1; a == 1 {
				b = 2
			}
		}
		links = append(links, Link{a, b})
		w.pipes = append(w.pipes, waterPipe{50, 0.04, 0.1e-3})
	}
	w.emitters = make([]float64, len(links))
	for v := 1; v <= nodes; v++ {
		if emitter[v] {
			links = append(links, Link{v, nodes + 1})
			w.pipes = append(w.pipes, waterPipe{})
			w.emitters = append(w.emitters, 0.2e-3)
		}
	}
	return fixed, head, links, w
}

// start is the engine's: one foot a second in every pipe, and a litre a second in every emitter.
func (w *water) start() []float64 {
	flow := make([]float64, len(w.pipes))
	for i, p := range w.pipes {
		flow[i] = 0.3048 * math.Pi / 4 * p.bore * p.bore
		if w.emitters[i] > 0 {
			flow[i] = 1e-3
		}
	}
	return flow
}

func solveWater(t testing.TB, fixed []bool, head []float64, links []Link, w *water) Result {
	t.Helper()
	n, err := New(fixed, links)
	if err != nil {
		t.Fatal(err)
	}
	r := n.Solve(context.Background(), w, w.start(), head, nil, Options{HeadTolerance: 1e-6, FlowTolerance: 1e-8})
	if r.Stopped != Converged {
		t.Fatalf("stopped after %d iterations: %s, residual %g, imbalance %g", r.Iterations, r.Stopped, r.Residual, r.Imbalance)
	}
	return r
}

// compare checks heads to 3e-4 m of 60 and flows to 1e-5 of the greatest: the engine's conversions between
// customary and metric units are rounded to five digits.
func compare(t *testing.T, name string, r Result) {
	t.Helper()
	text, err := os.ReadFile("testdata/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil || len(rows) < 5 {
		t.Fatalf("%s: %v, %d lines", name, err, len(rows))
	}
	var most, head, flow float64
	for _, q := range r.Flow {
		most = math.Max(most, math.Abs(q))
	}
	for _, row := range rows[1:] {
		at, err1 := strconv.Atoi(row[1])
		want, err2 := strconv.ParseFloat(row[2], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if row[0] == "head_m" {
			head = math.Max(head, math.Abs(r.Head[at]-want))
		} else {
			flow = math.Max(flow, math.Abs(r.Flow[at]-want*1e-3)/most)
		}
	}
	t.Logf("%s: %d iterations, heads within %.2g m, flows within %.2g of the greatest", name, r.Iterations, head, flow)
	if head > 3e-4 || flow > 1e-5 {
		t.Errorf("%s: heads differ by %g m, flows by %g of the greatest", name, head, flow)
	}
}

func TestReferenceEngineOnGeneratedNetworks(t *testing.T) {
	for _, pipes := range []int{10, 100, 1000, 10000} {
		fixed, head, links, w := generated(pipes)
		compare(t, fmt.Sprintf("epanet_%d", pipes), solveWater(t, fixed, head, links, w))
	}
}

// One pump, five pipes with a loop, three emitters.
func TestReferenceEngineOnPump(t *testing.T) {
	links := []Link{{1, 2}, {2, 3}, {2, 4}, {3, 4}, {4, 5}, {0, 1}, {3, 6}, {4, 6}, {5, 6}}
	w := &water{
		pump: 5, pipes: make([]waterPipe, len(links)),
		emitters: []float64{0, 0, 0, 0, 0, 0, 8e-3, 6e-3, 7e-3},
	}
	for i, p := range []waterPipe{{100, .3, 0}, {80, .2, 0}, {120, .2, 0}, {60, .15, 0}, {90, .2, 0}} {
		p.rough = 0.1e-3
		w.pipes[i] = p
	}
	fixed := []bool{true, false, false, false, false, false, true}
	n, err := New(fixed, links)
	if err != nil {
		t.Fatal(err)
	}
	start := w.start()
	start[5] = 0.1
	r := n.Solve(context.Background(), w, start, make([]float64, 7), nil, Options{HeadTolerance: 1e-6})
	if r.Stopped != Converged {
		t.Fatal(r.Stopped)
	}
	compare(t, "epanet_pump", r)
}

// BenchmarkNetwork10000 opens and solves the same network as "node ../oracles/epanet.mjs time 10000".
func BenchmarkNetwork10000(b *testing.B) {
	fixed, head, links, w := generated(10000)
	for b.Loop() {
		n, err := New(fixed, links)
		if err != nil {
			b.Fatal(err)
		}
		// The engine's default accuracy: flows change by less than a thousandth; ours stops on heads.
		r := n.Solve(context.Background(), w, w.start(), head, nil, Options{HeadTolerance: 1e-3, FlowTolerance: 1e-8})
		if r.Stopped != Converged {
			b.Fatal(r.Stopped)
		}
	}
}
