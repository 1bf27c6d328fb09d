package design

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"syscall"
	"testing"
	"time"
)

func cpuNow() float64 {
	var r syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &r)
	return float64(r.Utime.Sec) + float64(r.Utime.Usec)*1e-6 + float64(r.Stime.Sec) + float64(r.Stime.Usec)*1e-6
}

func TestXSearch(t *testing.T) {
	name := os.Getenv("XJOB")
	if name == "" {
		t.Skip()
	}
	from, _ := strconv.Atoi(os.Getenv("XFROM"))
	to, _ := strconv.Atoi(os.Getenv("XTO"))
	for seed := from; seed <= to; seed++ {
		j := example(t, name)
		start, cpu := time.Now(), cpuNow()
		last := -1.0
		study, err := Search(t.Context(), j, Options{Seed: uint64(seed), Workers: 2, Progress: func(done, total float64, best string) {
			if done/total-last > 0.02 {
				last = done / total
				fmt.Printf("   %3.0f %% %6.1f s %s\n", 100*last, cpuNow()-cpu, best)
			}
		}})
		if err != nil {
			t.Fatal(err)
		}
		b, _ := json.Marshal(study.State)
		_ = os.WriteFile("/tmp/d/ostate"+os.Getenv("XFROM")+".json", b, 0o644)
		fmt.Printf("seed %d wall %.1f cpu %.1f\n", seed, time.Since(start).Seconds(), cpuNow()-cpu)
		for i := range study.State.Populations {
			p := &study.State.Populations[i]
			m := &p.Members[0]
			fmt.Printf("   %-40s v %.3f cost %.0f p %.0f A %.5f n %d %s\n", p.Concept, m.Violation, m.Cost, m.Pressure, m.Area, p.Judged, m.Why)
		}
	}
}
