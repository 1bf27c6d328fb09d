// Page writes the description of the desk's operations, web/openapi.json.
package main

import (
	"log"
	"os"

	"leste/web/api"
)

func main() {
	b, err := api.Document()
	if err != nil {
		log.Fatal(err)
	}
	if err := os.WriteFile("../openapi.json", b, 0o666); err != nil {
		log.Fatal(err)
	}
}
