package main

import "leste/job"

type schemaCommand struct{}

// Run prints the JSON Schema of the job file; it is JSON with or without the flag.
func (schemaCommand) Run(p *program) error { return p.print(job.Schema()) }
