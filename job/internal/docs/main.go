// Command docs writes the generated documents of the job file into the folder given.
package main

import (
	"log"
	"os"
	"path/filepath"

	"leste/job"
)

func main() {
	log.SetFlags(0)
	if len(os.Args) != 2 {
		log.Fatal("usage: docs FOLDER")
	}
	for name, data := range map[string][]byte{"job.schema.json": job.Schema(), "job-file.md": job.Document()} {
		if err := os.WriteFile(filepath.Join(os.Args[1], name), data, 0o644); err != nil {
			log.Fatal(err)
		}
	}
}
