/**
 * Runs the long ones: `node tests/run-study.mjs DIR [name…]` runs every DIR/*.study.ts (or those whose name contains one
 * of the names). A study's default export is `async () => figures`, plain JSON. The figures go to stdout as one object
 * by study and to results/DIR.json; progress and faults go to stderr. Exit 1 when a study throws, 2 for wrong usage.
 *
 * Studies run with the project's root as working folder: read files by paths from there, not from import.meta.url,
 * since what runs is a bundle.
 */
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { basename, isAbsolute, join, resolve } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { rolldown } from 'rolldown'

const root = fileURLToPath(new URL('..', import.meta.url))
const [dir, ...names] = process.argv.slice(2)
if (dir === undefined || !existsSync(resolve(root, dir))) {
  console.error('usage: node tests/run-study.mjs DIR [name…]')
  process.exit(2)
}
process.chdir(root)

const studies = readdirSync(dir)
  .filter(file => file.endsWith('.study.ts'))
  .map(file => ({ name: file.slice(0, -'.study.ts'.length), file: resolve(dir, file) }))
  .filter(({ name }) => names.length === 0 || names.some(wanted => name.includes(wanted)))
  .sort((a, b) => (a.name < b.name ? -1 : 1))
if (studies.length === 0)
  console.error(`no study in ${dir}${names.length === 0 ? '' : ` named like ${names.join(', ')}`}`)

// Inside the project, so that packages left out of the bundle are found from there.
const cache = join(root, 'node_modules/.cache/moonplumb-studies')
mkdirSync(cache, { recursive: true })

const results = join(root, 'results', `${basename(resolve(dir))}.json`)
let figures = {}
if (names.length > 0 && existsSync(results)) figures = JSON.parse(readFileSync(results, 'utf8'))
const fresh = {}

for (const { name, file } of studies) {
  const began = performance.now()
  const bundled = join(cache, `${basename(resolve(dir))}-${name}-${process.pid}.mjs`)
  try {
    const bundle = await rolldown({
      input: file,
      platform: 'node',
      logLevel: 'silent',
      moduleTypes: { '.css': 'empty' }, // what screens look like is no matter of a study
      // CommonJS whose names Node does not see: it goes into the bundle.
      external: id => !id.startsWith('.') && !isAbsolute(id) && id !== 'geographiclib-geodesic',
    })
    await bundle.write({ file: bundled, format: 'esm', codeSplitting: false })
    await bundle.close()
    const study = await import(pathToFileURL(bundled).href)
    fresh[name] = await study.default()
    console.error(`${name}: ${((performance.now() - began) / 1000).toFixed(1)} s`)
  } catch (error) {
    console.error(`${name}: FAILED\n${error?.stack ?? error}`)
    process.exitCode = 1
  } finally {
    rmSync(bundled, { force: true })
  }
}

mkdirSync(join(root, 'results'), { recursive: true })
writeFileSync(results, `${JSON.stringify({ ...figures, ...fresh }, null, 2)}\n`)
console.log(JSON.stringify(fresh, null, 2))
