// Reference heads and flows of water networks from the EPANET 2.3 engine (npm epanet-js, MIT), and its time.
//
//   node epanet.mjs                writes ../flownet/testdata/*.csv
//   node epanet.mjs time 10000     prints the milliseconds of opening and solving, median of ten after a warm-up
//
// Networks come from the generator below, which ../flownet/epanet_test.go repeats step by step.
import { writeFileSync } from 'node:fs'
import { performance } from 'node:perf_hooks'
import { Project, Workspace, NodeProperty, LinkProperty } from 'epanet-js'

// Park and Miller's generator: exact in double precision, the same everywhere.
function generator (seed) {
  let s = seed
  return () => { s = (s * 16807) % 2147483647; return s / 2147483647 }
}

export function network (pipes) {
  const rand = generator(pipes + 1)
  const loops = Math.floor(pipes / 50)
  const nodes = pipes - loops // node 0 is the reservoir
  const links = []
  const parent = [0]
  for (let v = 1; v <= nodes; v++) {
    const reach = Math.min(v, 30)
    parent[v] = v - 1 - Math.floor(rand() * reach)
    links.push({ from: parent[v], to: v, length: 10 + Math.floor(rand() * 90) })
  }
  const emitter = new Array(nodes + 1).fill(0)
  const served = new Array(nodes + 1).fill(0)
  for (let v = 1; v <= nodes; v++) {
    if (v === nodes || rand() < 0.2) emitter[v] = 0.2 // L/s per sqrt(m)
  }
  for (let v = nodes; v >= 1; v--) {
    served[v] += emitter[v] > 0 ? 1 : 0
    served[parent[v]] += served[v]
  }
  for (let v = 1; v <= nodes; v++) links[v - 1].bore = Math.round(50 * Math.pow(Math.max(served[v], 1), 0.38)) // mm
  for (let i = 0; i < loops; i++) {
    const a = 1 + Math.floor(rand() * nodes)
    const b = 1 + Math.floor(rand() * nodes)
    links.push({ from: a, to: a === b ? (a === 1 ? 2 : a - 1) : b, length: 50, bore: 40 })
  }
  return { nodes, links, emitter }
}

function inp ({ nodes, links, emitter }, accuracy) {
  const out = ['[JUNCTIONS]']
  for (let v = 1; v <= nodes; v++) out.push(`n${v} 0 0`)
  out.push('[RESERVOIRS]', 'n0 60', '[PIPES]')
  links.forEach((l, i) => out.push(`p${i} n${l.from} n${l.to} ${l.length} ${l.bore} 0.1 0 Open`))
  out.push('[EMITTERS]')
  emitter.forEach((c, v) => { if (c > 0) out.push(`n${v} ${c}`) })
  return out.concat(options(accuracy), '[END]').join('\n')
}

const options = accuracy => ['[OPTIONS]', 'UNITS LPS', 'HEADLOSS D-W', `ACCURACY ${accuracy}`, 'TRIALS 200', 'EMITTER EXPONENT 0.5',
  '[TIMES]', 'DURATION 0', '[REPORT]', 'STATUS NO', 'SUMMARY NO', 'MESSAGES NO']

// One pump with a one-point curve, five pipes with a loop, three emitters: a blower in water's clothes.
const pumped = ['[JUNCTIONS]', 'n1 0 0', 'n2 0 0', 'n3 0 0', 'n4 0 0', 'n5 0 0', '[RESERVOIRS]', 'n0 0', '[PUMPS]', 'u n0 n1 HEAD c',
  '[CURVES]', 'c 100 30', '[PIPES]', 'p0 n1 n2 100 300 0.1 0 Open', 'p1 n2 n3 80 200 0.1 0 Open', 'p2 n2 n4 120 200 0.1 0 Open',
  'p3 n3 n4 60 150 0.1 0 Open', 'p4 n4 n5 90 200 0.1 0 Open', '[EMITTERS]', 'n3 8', 'n4 6', 'n5 7', ...options(1e-8), '[END]'].join('\n')

const ws = new Workspace()
await ws.loadModule()

function solve (text) {
  const model = new Project(ws)
  ws.writeFile('net.inp', text)
  model.open('net.inp', 'net.rpt', 'net.bin')
  model.solveH()
  return model
}

function write (name, model, nodes, links, every) {
  const rows = ['kind,number,value']
  for (let v = 1; v <= nodes; v += every) rows.push(`head_m,${v},${model.getNodeValue(model.getNodeIndex(`n${v}`), NodeProperty.Head)}`)
  for (let i = 0; i < links; i += every) rows.push(`flow_l_s,${i},${model.getLinkValue(model.getLinkIndex(`p${i}`), LinkProperty.Flow)}`)
  writeFileSync(new URL(`../flownet/testdata/${name}.csv`, import.meta.url), rows.join('\n') + '\n')
}

if (process.argv[2] === 'time') {
  const text = inp(network(Number(process.argv[3])), process.argv[4] ?? 0.001)
  const times = []
  for (let i = 0; i < 11; i++) {
    const model = new Project(ws)
    ws.writeFile('net.inp', text)
    const start = performance.now()
    model.open('net.inp', 'net.rpt', 'net.bin')
    model.solveH()
    if (i > 0) times.push(performance.now() - start)
    model.close()
  }
  console.log(times.sort((a, b) => a - b)[5].toFixed(3))
} else {
  for (const [pipes, every] of [[10, 1], [100, 1], [1000, 5], [10000, 50]]) {
    const net = network(pipes)
    write(`epanet_${pipes}`, solve(inp(net, 1e-8)), net.nodes, net.links.length, every)
  }
  write('epanet_pump', solve(pumped), 5, 5, 1)
}
