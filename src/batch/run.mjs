/**
 * Starts the batch command on plain Node, with no build step: bundles main.ts in memory (about 0.2 s), then runs it.
 */
import { fileURLToPath } from 'node:url'
import { rolldown } from 'rolldown'

// `… | head` closes the pipe early; that is no fault.
process.stdout.on('error', error => {
  if (error.code !== 'EPIPE') throw error
  process.exit(0)
})

const bundle = await rolldown({
  input: fileURLToPath(new URL('main.ts', import.meta.url)),
  platform: 'node',
  logLevel: 'silent',
})
const { output } = await bundle.generate({ format: 'esm' })
await bundle.close()
const { run } = await import(`data:text/javascript;base64,${Buffer.from(output[0].code).toString('base64')}`)

const { exit, stdout, stderr } = run(process.argv.slice(2), () => new Date().toISOString())
for (const line of stderr) process.stderr.write(`${line}\n`)
if (stdout !== '') process.stdout.write(stdout)
// Not process.exit: a pipe may still be taking the rest.
process.exitCode = exit
