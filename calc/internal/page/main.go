// Command page writes docs/relations.md from the cards of all relations.
package main

import (
	"flag"
	"fmt"
	"os"

	"leste/calc"
)

func main() {
	out := flag.String("out", "", "file to write")
	flag.Parse()
	if err := os.WriteFile(*out, []byte(calc.RelationsPage()), 0o600); err != nil {
		fmt.Fprintln(os.Stderr, "page:", err)
		os.Exit(1)
	}
}
