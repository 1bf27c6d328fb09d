package main

import (
	"math"
	"testing"

	"leste/accept"
	q "leste/quantity"
)

func TestLawConfidenceIsToldOnlyWhereItMeansSomething(t *testing.T) {
	unknown := q.Ratio(math.NaN())
	for _, c := range []struct {
		x    accept.Judged
		want string
	}{
		{accept.Judged{Verdict: accept.NotEnough, Confidence: unknown, Doubt: unknown}, ""},
		{accept.Judged{Verdict: accept.Accepted, Confidence: 0.97}, " at 97 % confidence"},
		{accept.Judged{Verdict: accept.NotAccepted, Doubt: 0.98}, " at 98 % confidence"},
		{accept.Judged{Verdict: accept.NotEnough, Confidence: 0, Doubt: 0.9}, ";neither is sure: kept at less than 0.1 %, not kept at 90 %, and 95 % are asked for"},
	} {
		if got := certainty(c.x, 0.95); got != c.want {
			t.Errorf("%s: %q, want %q", c.x.Verdict, got, c.want)
		}
	}
}
