// Package gltf writes a station as one binary glTF 2.0 file (GLB): outlets, belt and rails, and the
// container coloured by the water left on it. Lengths are metres; y is up, x along travel, as the format
// wants a right-handed frame with y up.
package gltf

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"math"

	leste "leste"
	"leste/job"
	q "leste/quantity"
	"leste/render/drawing"
	"leste/render/scene"
	"leste/station"
)

// Options change how a station is written.
type Options struct {
	Coarse bool // every second row of the container's wall: where there are many models
}

// Bytes returns one station as one format meets it. The map may be nil: the container is white then.
func Bytes(f station.FormatPlan, s station.Scene, water *leste.Map, o Options) ([]byte, error) {
	return encode(s.Name, meshes(f, s, water, o))
}

// meshes builds everything that is shown.
func meshes(f station.FormatPlan, s station.Scene, water *leste.Map, o Options) []mesh {
	var out []mesh
	keep := func(m mesh) {
		if len(m.triangles) > 0 {
			out = append(out, m)
		}
	}
	long := 0.3
	wide := 0.06
	if b := f.Body; b != nil && b.Surface != nil && b.Surface.Rows > 1 {
		container := mesh{name: "container", material: material{"water left", drawing.White, 0.6, 1}}
		rows := 1
		if o.Coarse {
			rows = 2
		}
		shown := coarse(b, rows, thinColumns)
		container.wall(shown, coloured(shown, water))
		keep(container)
		n := mesh{name: "neighbour", material: material{"neighbour", drawing.Mist, 0.8, 0.35}, along: s.Neighbours}
		if len(s.Neighbours) > 0 { // drawn once, placed as often as there are
			n.wall(coarse(b, thin, thin), nil)
		}
		keep(n)
		long = max(long, 2.5*float64(f.Pitch))
		wide = b.Depth/2 + 0.012
	}
	if s.BeltHalf > 0 && !math.IsInf(s.BeltHalf, 1) {
		wide = s.BeltHalf
	}
	for _, p := range s.Outlets {
		m := mesh{name: p.Name, material: material{"air outlet", drawing.Sea.Mix(drawing.White, 0.35), 0.45, 1}}
		for _, solid := range scene.Solids(p) {
			m.solid(solid)
		}
		keep(m)
	}
	if s.Belt {
		belt := mesh{name: "belt", material: material{"belt", drawing.Slate, 0.9, 1}}
		belt.box(job.Box{XFrom: q.Length(-long), XTo: q.Length(long), YFrom: q.Length(-wide), YTo: q.Length(wide), ZFrom: -0.01, ZTo: 0})
		keep(belt)
	}
	rails := mesh{name: "rails", material: material{"rail", drawing.Mist, 0.4, 1}}
	for _, r := range s.Rails {
		loop := func(x float64) []station.Vec {
			var v []station.Vec
			for i := range 16 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 16)
				v = append(v, station.Vec{X: x, Y: r.Y + r.Radius*cos, Z: r.Z + r.Radius*sin})
			}
			return v
		}
		rails.solid(scene.Solid{A: loop(-long), B: loop(long)})
	}
	for _, b := range s.Grips {
		b.XFrom, b.XTo = max(b.XFrom, q.Length(-long)), min(b.XTo, q.Length(long))
		rails.box(b)
	}
	keep(rails)
	obstacles := mesh{name: "obstacles", material: material{"obstacle", drawing.Clay, 0.9, 0.5}}
	for _, b := range s.Obstacles {
		obstacles.box(b)
	}
	keep(obstacles)
	return out
}

// object is a JSON object; encoding/json writes its keys in order.
type object map[string]any

// Numbers of the format.
const (
	floats, words, shorts   = 5126, 5125, 5123 // component types: float, unsigned int, unsigned short
	forVertices, forIndices = 34962, 34963
)

// encode writes meshes as GLB: a JSON chunk and a binary chunk.
func encode(name string, meshes []mesh) ([]byte, error) {
	var bin bytes.Buffer
	var views, accessors, nodes, list, materials []object
	seen := map[material]int{}

	view := func(data any, target int) int {
		for bin.Len()%4 != 0 { // every view starts at a whole word
			bin.WriteByte(0)
		}
		from := bin.Len()
		_ = binary.Write(&bin, binary.LittleEndian, data) // a bytes.Buffer does not fail
		views = append(views, object{"buffer": 0, "byteOffset": from, "byteLength": bin.Len() - from, "target": target})
		return len(views) - 1
	}
	vectors := func(v [][3]float32, bounds bool) int {
		a := object{"bufferView": view(v, forVertices), "componentType": floats, "count": len(v), "type": "VEC3"}
		if bounds {
			low, high := v[0], v[0]
			for _, p := range v {
				for i := range p {
					low[i], high[i] = min(low[i], p[i]), max(high[i], p[i])
				}
			}
			a["min"], a["max"] = low, high
		}
		accessors = append(accessors, a)
		return len(accessors) - 1
	}
	for _, m := range meshes {
		at, known := seen[m.material]
		if !known {
			at = len(materials)
			seen[m.material] = at
			materials = append(materials, m.material.object(len(m.colour) > 0))
		}
		attributes := object{"POSITION": vectors(m.position, true), "NORMAL": vectors(m.normal, false)}
		if len(m.colour) == len(m.position) {
			shares := object{"bufferView": view(sixteen(m.colour), forVertices), "componentType": shorts, "count": len(m.colour), "type": "VEC4"}
			shares["normalized"] = true //nolint:misspell // the format spells it so
			accessors = append(accessors, shares)
			attributes["COLOR_0"] = len(accessors) - 1
		}
		indices, kind := any(m.triangles), words
		if len(m.position) <= math.MaxUint16 {
			indices, kind = short(m.triangles), shorts
		}
		accessors = append(accessors, object{"bufferView": view(indices, forIndices), "componentType": kind, "count": len(m.triangles), "type": "SCALAR"})
		list = append(list, object{"name": m.name, "primitives": []object{{"attributes": attributes, "indices": len(accessors) - 1, "material": at, "mode": 4}}})
		if len(m.along) == 0 {
			nodes = append(nodes, object{"name": m.name, "mesh": len(list) - 1})
		}
		for _, x := range m.along {
			nodes = append(nodes, object{"name": m.name, "mesh": len(list) - 1, "translation": point(station.Vec{X: x})})
		}
	}
	index := make([]int, len(nodes))
	for i := range index {
		index[i] = i
	}
	scene := object{"name": name}
	doc := object{"asset": object{"version": "2.0", "generator": "Leste"}, "scene": 0, "scenes": []object{scene}}
	if len(nodes) > 0 {
		scene["nodes"] = index
		doc["nodes"], doc["meshes"], doc["materials"] = nodes, list, materials
		doc["accessors"], doc["bufferViews"] = accessors, views
		doc["buffers"] = []object{{"byteLength": bin.Len()}}
		scene["extras"] = object{"water_dry_g_m2": dryEnd * 1e3, "water_wet_g_m2": wetEnd * 1e3, "water_scale": "logarithmic"}
	}
	head, err := json.Marshal(doc)
	if err != nil {
		return nil, err
	}
	return glb(head, bin.Bytes()), nil
}

// sixteen writes colours as shares of 65535, opaque: half of what numbers with a point take.
func sixteen(colours [][3]float32) [][4]uint16 {
	out := make([][4]uint16, len(colours))
	for i, c := range colours {
		for k, v := range c {
			out[i][k] = uint16(math.Round(float64(v) * math.MaxUint16))
		}
		out[i][3] = math.MaxUint16
	}
	return out
}

// short writes the corners of triangles with half the room.
func short(corners []uint32) []uint16 {
	out := make([]uint16, len(corners))
	for i, c := range corners {
		out[i] = uint16(c)
	}
	return out
}

func (m material) object(coloured bool) object {
	c := linearColour(m.colour)
	if coloured {
		c = [3]float32{1, 1, 1}
	}
	o := object{
		"name": m.name, "doubleSided": m.opaque < 1,
		"pbrMetallicRoughness": object{"baseColorFactor": []float32{c[0], c[1], c[2], float32(m.opaque)}, "metallicFactor": 0, "roughnessFactor": m.rough},
	}
	if m.opaque < 1 {
		o["alphaMode"] = "BLEND"
	}
	return o
}

// glb joins the two chunks, each padded to four bytes.
func glb(head, bin []byte) []byte {
	for len(head)%4 != 0 {
		head = append(head, ' ')
	}
	for len(bin)%4 != 0 {
		bin = append(bin, 0)
	}
	const magic, version, chunkJSON, chunkBIN = 0x46546c67, 2, 0x4e4f534a, 0x004e4942
	total := 12 + 8 + len(head)
	if len(bin) > 0 {
		total += 8 + len(bin)
	}
	var out bytes.Buffer
	word := func(v ...uint32) { _ = binary.Write(&out, binary.LittleEndian, v) }
	word(magic, version, uint32(total), uint32(len(head)), chunkJSON)
	out.Write(head)
	if len(bin) > 0 {
		word(uint32(len(bin)), chunkBIN)
		out.Write(bin)
	}
	return out.Bytes()
}
