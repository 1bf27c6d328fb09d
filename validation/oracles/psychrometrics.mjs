// Reference values of humid air from psychrolib 2.5.0, which follows the ASHRAE Handbook Fundamentals 2017.
// Its wet bulb and dew point are iterated to 0.001 K.
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'

const here = dirname(fileURLToPath(import.meta.url))
if (!existsSync(join(here, 'node_modules', 'psychrolib'))) {
  console.log('psychrometrics.mjs: not run, the package psychrolib is missing (npm ci)')
  process.exit(0)
}
const library = createRequire(import.meta.url)('psychrolib')
library.SetUnitSystem(library.SI)

const head = ['pressure_pa', 'temperature_c', 'relative_humidity', 'humidity_ratio', 'wet_bulb_c', 'dew_point_c', 'density_kg_m3', 'enthalpy_j_kg']
const lines = [head.join(',')]
for (const p of [60e3, 75e3, 89874.6, 101325, 110e3, 130e3]) {
  for (const t of [-20, -10, -3, 2, 8, 15, 20, 25, 30, 35, 42, 50, 60, 75, 90]) {
    for (const rh of [0.05, 0.2, 0.4, 0.6, 0.8, 0.95]) {
      if (rh * library.GetSatVapPres(t) > 0.15 * p) continue // air too moist for any plant room
      const w = library.GetHumRatioFromRelHum(t, rh, p)
      const row = [p, t, rh, w, library.GetTWetBulbFromHumRatio(t, w, p), library.GetTDewPointFromHumRatio(t, w, p),
        library.GetMoistAirDensity(t, w, p), library.GetMoistAirEnthalpy(t, w)]
      lines.push(row.map((x) => String(Number(x.toPrecision(10)))).join(','))
    }
  }
}
const file = join(here, 'data', 'psychrometrics.csv')
if (!process.argv.includes('--check')) {
  writeFileSync(file, lines.join('\n') + '\n')
  console.log(`psychrometrics.csv: ${lines.length - 1} rows written`)
  process.exit(0)
}
const kept = readFileSync(file, 'utf8').trimEnd().split('\n')
const same = (a, b) => a === b || Math.abs(a - b) <= 2.01e-9 * Math.max(Math.abs(a), Math.abs(b))
const differs = (a, b) => {
  const x = a.split(','), y = b.split(',')
  return x.length !== y.length || x.some((v, i) => !same(Number(v), Number(y[i])) && v !== y[i])
}
if (kept.length !== lines.length) {
  console.error(`psychrometrics.csv: ${kept.length - 1} rows are kept, ${lines.length - 1} are calculated; write the table again`)
  process.exit(1)
}
lines.forEach((line, i) => {
  if (differs(line, kept[i])) {
    console.error(`psychrometrics.csv: kept ${kept[i]}, calculated ${line}`)
    process.exit(1)
  }
})
console.log(`psychrometrics.csv: ${lines.length - 1} rows agree`)
