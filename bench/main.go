// Bench measures what people wait for and prints each figure beside its limit.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"syscall"
	"testing"
	"time"

	leste "leste"
	"leste/job"
)

// A measurement is one figure with the limit it must keep.
type measurement struct {
	what  string
	limit float64
	unit  string
	most  bool // limit is the most allowed; otherwise the least
	take  func() (float64, error)
}

const example = "examples/can-330-sidewall.yaml"

func main() {
	testing.Init() // -test.benchtime says how long each figure is measured
	flag.Parse()
	if err := report(); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

func report() error {
	data, err := os.ReadFile(example)
	if err != nil {
		return fmt.Errorf("run it at the top of the repository: %w", err)
	}
	fmt.Printf("%s, %d cores, %s\n\n", runtime.Version(), runtime.NumCPU(), example)
	fmt.Printf("%-58s %12s %14s  %s\n", "measured", "figure", "limit", "ratio")
	for _, m := range measurements(data) {
		figure, err := m.take()
		if err != nil {
			return fmt.Errorf("%s: %w", m.what, err)
		}
		ratio, sign := figure/m.limit, "at most"
		if !m.most {
			ratio, sign = m.limit/figure, "at least"
		}
		mark := ""
		if ratio > 1 {
			mark = "  beyond the limit"
		}
		fmt.Printf("%-58s %9.3g %-4s %s %g %s  %.2f%s\n", m.what, figure, m.unit, sign, m.limit, m.unit, ratio, mark)
	}
	return nil
}

func measurements(data []byte) []measurement {
	return []measurement{
		{"quick assessment of one case on one core", 30, "ms", true, func() (float64, error) { return milliseconds(quickCase(data)) }},
		{"memory of a quick assessment of one case", 50, "MB", true, func() (float64, error) { return megabytes(quickCase(data)) }},
		{"quick assessment: all cases, ranking and remedies", 3000, "ms", true, func() (float64, error) { return milliseconds(quickWhole(data)) }},
		{"check of a job file with its layout", 5, "ms", true, func() (float64, error) { return milliseconds(check(data)) }},
		{"job files parsed in a second", 1000, "/s", false, func() (float64, error) { return perSecond(parse(data)) }},
		{"water followed past the station, cells of 2 mm, one core", 400, "ms", true, func() (float64, error) { return followed(data, 2e-3, 1) }},
		{"water followed past the station, cells of 1 mm, one core", 4000, "ms", true, func() (float64, error) { return followed(data, 1e-3, 1) }},
		{"the same on cells of 2 mm, one core over two", 1.7, "", false, func() (float64, error) {
			one, err := followed(data, 2e-3, 1)
			if err != nil {
				return 0, err
			}
			two, err := followed(data, 2e-3, 2)
			return one / two, err
		}},
		{"whole process: leste assess, quick and nominal", 100, "ms", true, func() (float64, error) {
			return process(15, "assess", example, "--method", "quick", "--nominal")
		}},
		{"whole process: leste check", 100, "ms", true, func() (float64, error) { return process(15, "check", example) }},
		{"whole process: leste calc jet", 100, "ms", true, func() (float64, error) {
			return process(15, "calc", "jet", "--slot-gap", "1.5 mm", "--pressure", "20 kPa")
		}},
		{"whole process: leste quote, three formats", 5000, "ms", true, quotation},
	}
}

// followed is what following the water in time takes beyond the quick answer to the same case, which comes before it on
// cells of its own; the layout on the finer cells is in it.
func followed(data []byte, cell float64, cores int) (float64, error) {
	o := leste.Options{Method: "quick", Nominal: true, NoRanking: true, Workers: cores}
	quick, err := milliseconds(assess(data, o))
	if err != nil {
		return 0, err
	}
	o.Method, o.Cell = "transport", cell
	all, err := milliseconds(assess(data, o))
	return all - quick, err
}

// quotation writes a quotation for three formats, all cases followed.
func quotation() (float64, error) {
	folder, err := os.MkdirTemp("", "leste-bench-")
	if err != nil {
		return 0, err
	}
	defer func() { _ = os.RemoveAll(folder) }() // as in process
	return process(3, "quote", "examples/cans-three-sizes.yaml", "-o", folder)
}

// parse reads the job file.
func parse(data []byte) func(*testing.B) {
	return func(b *testing.B) {
		for b.Loop() {
			if _, problems := job.Read(example, data); len(problems) > 0 {
				b.Fatal(problems)
			}
		}
	}
}

// check does what the command does: form, values and layout.
func check(data []byte) func(*testing.B) {
	return func(b *testing.B) {
		for b.Loop() {
			file, problems := job.Load(example, data)
			if problems = append(problems, leste.Check(file.Job)...); len(problems) > 0 {
				b.Fatal(problems)
			}
		}
	}
}

// quickCase is one format in one case: what a search or a drag on a screen asks for.
func quickCase(data []byte) func(*testing.B) {
	return assess(data, leste.Options{Method: "quick", Nominal: true, NoRanking: true})
}

// quickWhole is everything that the command does.
func quickWhole(data []byte) func(*testing.B) {
	return assess(data, leste.Options{Method: "quick"})
}

func assess(data []byte, o leste.Options) func(*testing.B) {
	return func(b *testing.B) {
		file, problems := job.Load(example, data)
		if len(problems) > 0 {
			b.Fatal(problems)
		}
		b.ReportAllocs()
		for b.Loop() {
			if _, err := leste.Assess(context.Background(), file.Job, o); err != nil {
				b.Fatal(err)
			}
		}
	}
}

func milliseconds(f func(*testing.B)) (float64, error) {
	r, err := benchmark(f)
	return float64(r.NsPerOp()) * 1e-6, err
}

// megabytes is all that was allocated, which bounds what was in use at one time.
func megabytes(f func(*testing.B)) (float64, error) {
	r, err := benchmark(f)
	return float64(r.AllocedBytesPerOp()) * 1e-6, err
}

func perSecond(f func(*testing.B)) (float64, error) {
	r, err := benchmark(f)
	return 1e9 / float64(r.NsPerOp()), err
}

func benchmark(f func(*testing.B)) (testing.BenchmarkResult, error) {
	r := testing.Benchmark(f)
	if r.N == 0 {
		return r, fmt.Errorf("the benchmark failed")
	}
	return r, nil
}

// process is the median wall time of the whole program, in milliseconds.
func process(runs int, args ...string) (float64, error) {
	folder, err := os.MkdirTemp("", "leste-bench-")
	if err != nil {
		return 0, err
	}
	defer func() { _ = os.RemoveAll(folder) }() // a folder left behind in the system's own place does no harm
	binary := filepath.Join(folder, "leste")
	if out, err := exec.Command("go", "build", "-o", binary, "./cmd/leste").CombinedOutput(); err != nil {
		return 0, fmt.Errorf("%w: %s", err, out)
	}
	times := make([]float64, runs)
	for i := range times {
		command := exec.Command(binary, args...)
		start := time.Now()
		err := command.Run()
		if code := command.ProcessState.ExitCode(); err != nil && code != 1 && code != 5 { // an unmet requirement is an answer
			return 0, err
		}
		times[i] = time.Since(start).Seconds() * 1e3
		if usage, ok := command.ProcessState.SysUsage().(*syscall.Rusage); ok && i == 0 {
			fmt.Printf("%-58s %9.3g MB\n", "  greatest memory of leste "+args[0], float64(usage.Maxrss)/1e3)
		}
	}
	slices.Sort(times)
	return times[runs/2], nil
}
