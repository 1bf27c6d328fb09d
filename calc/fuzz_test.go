package calc

import (
	"errors"
	"testing"
)

// FuzzTopic answers every topic with one input replaced by any text: an answer or an InputError, nothing else.
func FuzzTopic(f *testing.F) {
	for i := range Topics() {
		f.Add(uint8(i), uint8(0), "1.5 mm")
		f.Add(uint8(i), uint8(3), "1e308 Pa")
	}
	f.Fuzz(func(t *testing.T, which, input uint8, text string) {
		topics := Topics()
		topic := topics[int(which)%len(topics)]
		p := topic.Params[int(input)%len(topic.Params)]
		a, err := topic.Answer(with(needed[topic.Name], p.Name, text))
		if err != nil {
			var wrong *InputError
			if !errors.As(err, &wrong) {
				t.Fatalf("%s with %s = %q: %v is no InputError", topic.Name, p.Name, text, err)
			}
			return
		}
		if len(a.Results) == 0 {
			t.Errorf("%s with %s = %q: no answer and no error", topic.Name, p.Name, text)
		}
	})
}
