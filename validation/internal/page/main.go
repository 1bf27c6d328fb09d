// Command page writes docs/validation.md from the reference checks.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"

	"leste/validation"
)

func main() {
	out := flag.String("out", "", "file to write")
	flag.Parse()
	if err := os.WriteFile(*out, []byte(validation.Page(validation.Run(context.Background()))), 0o600); err != nil {
		fmt.Fprintln(os.Stderr, "page:", err)
		os.Exit(1)
	}
}
