package web_test

import (
	"os"
	"path/filepath"
)

// smallJob is a line that is answered quickly at every depth: a small can and one knife.
const smallJob = `# invented
leste: 1
job: small can
line: {rate: 300 /min, container_gap: 30 mm, stops: no}
arrives: {from: rinser, looks: damp, time_since: 5 s}
formats:
  - name: small can
    content: empty
    container:
      material: aluminium
      empty_mass: 5 g
      profile: [{radius: 0 mm, height: 0 mm}, {radius: 15 mm, height: 0 mm, zone: base}, {radius: 15 mm, height: 30 mm, zone: sidewall}, {radius: 0 mm, height: 30 mm, zone: end}]
stations:
  - name: only
    state: as found
    outlets:
      - name: left knife # the one that is dragged
        kind: air knife
        side: left
        height: 18 mm
        stand_off: 30 mm
        length: 60 mm
        slot_gap: 1 mm
        plenum_pressure: 5 kPa
next:
  - {machine: packer, distance: 1 m, requires: [{zone: all, mass: 3 g}]}
`

const small = "small.yaml"

// add writes a job into the folder of a desk.
func (d *desk) add(name, text string) {
	d.Helper()
	if err := os.WriteFile(filepath.Join(d.folder, name), []byte(text), 0o600); err != nil {
		d.Fatal(err)
	}
}
