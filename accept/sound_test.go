package accept

import (
	"math"
	"slices"
	"strings"
	"testing"

	q "leste/quantity"
)

func TestLawSoundIsHeldAgainstTheLimit(t *testing.T) {
	const enough = "rejects,PET,camera,air on,,3000,0,\n" + dryLabels
	for name, c := range map[string]struct {
		rows string
		job  float64 // background that the job tells; 0 is none
		want Verdict
		says string
	}{
		"nothing read":            {"", 0, Accepted, ""},
		"below":                   {"sound,,,,84 dB,,,\n", 0, Accepted, "the limit is 85.0 dB"},
		"above, room not known":   {"sound,,,,91 dB,,,\n", 0, NotEnough, "91.0 dB were read 1 m from the outlets; that is 6.0 dB above the limit of 85.0 dB; read the level with the air off"},
		"above, quiet room":       {"sound,,,air on,91 dB,,,\nsound,,,air off,75 dB,,,\n", 0, NotAccepted, "with the air off 75.0 dB were read there; so that the station makes 90.9 dB; that is 5.9 dB above"},
		"the room is what sounds": {"sound,,,air on,87 dB,,,\nsound,,,air off,84 dB,,,\n", 0, Accepted, "so that the station makes 84.0 dB"},
		"hidden, yet below":       {"sound,,,,87.5 dB,,,\nsound,,,air off,87 dB,,,\n", 0, Accepted, "so loud a room hides the station, which makes 84.5 dB at most"},
		"hidden":                  {"sound,,,,91 dB,,,\nsound,,,air off,90 dB,,,\n", 0, NotEnough, "which makes 88.0 dB at most; that is 3.0 dB above the limit of 85.0 dB; read again when the other machines stand"},
		"background by the job":   {"sound,,,,91 dB,,,\n", 80, NotAccepted, "without the station the job expects 80.0 dB"},
		"the louder place":        {"sound,,inlet side,,80 dB,,,\nsound,,outlet side,,92 dB,,,\nsound,,,air off,70 dB,,,\n", 0, NotAccepted, "92.0 dB were read 1 m from the outlets; with the air off 70.0 dB were read"},
	} {
		e := promised()
		e.Noise = Noise{Limit: 85, Asked: true}
		if c.job > 0 {
			e.Noise.Background = q.Known(q.SoundLevel(c.job))
		}
		rows := rowsOf(t, enough+c.rows)
		j := Judge(rows, e, Terms{})
		var says []string
		for _, l := range j.Sound {
			says = append(says, l.Says...)
		}
		if all := strings.Join(says, "; "); j.Verdict != c.want || !strings.Contains(all, c.says) {
			t.Errorf("%s: %s, %q; want %s, %q", name, j.Verdict, all, c.want, c.says)
		}
		e.Noise.Asked = false // a limit that nobody asked for is told and decides nothing
		j = Judge(rows, e, Terms{})
		if j.Verdict != Accepted {
			t.Errorf("%s, limit assumed: %s", name, j.Verdict)
		}
		for _, l := range j.Sound {
			if over := l.Station > l.Limit; over != slices.ContainsFunc(l.Says, func(s string) bool { return strings.HasPrefix(s, "nobody gave the limit") }) {
				t.Errorf("%s, limit assumed: %q", name, l.Says)
			}
		}
	}
}

// A station far quieter than calculated was accepted without a word.
func TestLawAStationQuieterThanItsBandIsTold(t *testing.T) {
	e := promised()
	for _, c := range []struct {
		rows  string
		limit q.SoundLevel
		want  string
	}{
		{"sound,,,,74 dB,,,\n", 85, "74.0 dB were read 1 m from the outlets; the limit is 85.0 dB; that is 10.0 dB below the 84.0 dB calculated and below their whole band"},
		{"sound,,,,74 dB,,,\n", 0, "74.0 dB were read 1 m from the outlets; that is 10.0 dB below the 84.0 dB calculated"},
		{"sound,,,,78.1 dB,,,\n", 85, ""}, // within the band
		{"sound,,,,80 dB,,,\nsound,,,air off,79.5 dB,,,\n", 85, "which makes 77.0 dB at most; the limit is 85.0 dB; that is 7.0 dB below"},
	} {
		e.Noise = Noise{Limit: c.limit, Asked: true, Calculated: [2]q.SoundLevel{84, 78}}
		j := Judge(rowsOf(t, c.rows), e, Terms{})
		says := strings.Join(j.Sound[0].Says, "; ")
		if strings.Contains(says, "below their whole band") != (c.want != "") || !strings.Contains(says, c.want) || j.Sound[0].Verdict != Accepted {
			t.Errorf("%q, limit %g: %q, %s; want %q", c.rows, float64(c.limit), says, j.Sound[0].Verdict, c.want)
		}
	}
}

// Source: levels of two equal sources add to 3.01 dB more; 10 dB apart, 0.41 dB more. Rounding of the first.
func TestReferenceBackgroundIsTakenOff(t *testing.T) {
	for _, c := range []struct{ read, background, want float64 }{{83.0103, 80, 80}, {90.4139, 80, 90}, {90, math.NaN(), 90}} {
		if got, bound := less(c.read, c.background); math.Abs(got-c.want) > 1e-3 || bound {
			t.Errorf("%g less %g is %g, %v", c.read, c.background, got, bound)
		}
	}
}

// What was read with the air off entered the mean that is held against what is expected.
func TestLawTheStationAloneIsHeldAgainstWhatIsExpected(t *testing.T) {
	e := Expected{Readings: []Value{{What: Sound, Want: 84, Off: 1}}}
	j := Judge(rowsOf(t, "sound,,,air on,87 dB,,,\nsound,,,air off,84 dB,,,\n"), e, Terms{})
	if len(j.Readings) != 1 || math.Abs(j.Readings[0].Read-84) > 0.05 || j.Readings[0].Beyond {
		t.Errorf("%+v", j.Readings)
	}
	if j := Judge(rowsOf(t, "sound,,,air off,84 dB,,,\n"), e, Terms{}); len(j.Readings) != 0 || len(j.Sound) != 0 {
		t.Errorf("a level with the air off alone: %+v, %+v", j.Readings, j.Sound)
	}
	rows := rowsOf(t, "sound,,3 m,,80 dB,,,\nsound,,1 m,,80 dB,,,\nsound,,gate,,80 dB,,,\n")
	if kept, err := e.Kept("r.csv", rows); len(kept) != 2 || err == nil || !strings.Contains(err.Error(), "r.csv:2:1: the level was read at 3 m") {
		t.Errorf("%+v, %v", kept, err)
	}
}
