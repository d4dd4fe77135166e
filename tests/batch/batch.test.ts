import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { run } from '../../src/batch/main.ts'
import { type AnyBook, bareStation, smallBook } from '../helpers/smallbook.ts'
import { someOf } from '../helpers/some.ts'

const folder = mkdtempSync(join(tmpdir(), 'moonplumb-batch-'))
afterAll(() => rmSync(folder, { recursive: true }))

const POLAR = 'tests/examples/tilting-polar.fieldbook.json'
const NOW = '2026-05-01T00:00:00Z'

let files = 0
/** A file in the test's own folder. */
const fileOf = (content: unknown): string => {
  files += 1
  const file = join(folder, `book-${files}.fieldbook.json`)
  writeFileSync(file, typeof content === 'string' || content instanceof Uint8Array ? content : JSON.stringify(content))
  return file
}

/** In this process: the same code, without the 0.4 s of a start. */
const here = (...args: string[]) => run(args, () => '2026-05-02T00:00:00.123Z')

/** As from a shell. */
async function shell(...args: string[]) {
  const child = spawn(process.execPath, ['src/batch/run.mjs', ...args])
  const out: Buffer[] = []
  const err: Buffer[] = []
  child.stdout.on('data', chunk => out.push(chunk))
  child.stderr.on('data', chunk => err.push(chunk))
  const [code] = await once(child, 'close')
  return { code, stdout: Buffer.concat(out), stderr: Buffer.concat(err).toString() }
}

const TABLE = ['targets', POLAR, '--target', 'moon', '--from', NOW, '--hours', '1', '--step-s', '1800']
/** The table's arguments with one option given another value, or left out. */
const table = (option: string, value?: string): string[] => {
  const at = TABLE.indexOf(option)
  return value === undefined ? TABLE.toSpliced(at, 2) : TABLE.toSpliced(at + 1, 1, value)
}

const WINDOWS = ['windows', POLAR, '--target', 'moon', '--from', NOW, '--days', '3']
/** The same of the windows. */
const spells = (option: string, value?: string): string[] => {
  const at = WINDOWS.indexOf(option)
  return value === undefined ? WINDOWS.toSpliced(at, 2) : WINDOWS.toSpliced(at + 1, 1, value)
}

describe('the batch command from a shell', () => {
  it('checks a good book: ok and counts on stdout, nothing on stderr, exit 0', async () => {
    const { code, stdout, stderr } = await shell('check', POLAR)
    expect([code, stderr]).toEqual([0, ''])
    expect(stdout.toString()).toBe('ok: 1 station, 18 sightings, 0 levels, 0 changes, 0 references\n')
  })

  it('tells every broken rule of a bad book, one line each on stderr, nothing on stdout, exit 1', async () => {
    const book = smallBook()
    book.stations[0].site.latDeg = 123
    book.stations[0].sightings[3].utc = 'noon\nand\u202e'
    const { code, stdout, stderr } = await shell('check', fileOf(book))
    expect([code, stdout.length]).toEqual([1, 0])
    expect(stderr).toBe(
      'stations[0].site.latDeg: latDeg must be a number from -90 to 90, got 123\n' +
        'stations[0].sightings[3].utc: utc must be a real time in UTC such as 2026-05-01T12:00:00Z, got "noon\\u000aand\\u202e"\n',
    )
  })

  it('answers wrong usage with one line and exit 2', async () => {
    const { code, stdout, stderr } = await shell('solve', POLAR, '--noww', NOW)
    expect([code, stdout.length]).toEqual([2, 0])
    expect(stderr).toMatch(/^solve has no option "--noww"; usage: .*\n$/)
  })

  it('solves to the same bytes twice, with the same --now', async () => {
    const [a, b] = await Promise.all([shell('solve', POLAR, '--now', NOW), shell('solve', POLAR, '--now', NOW)])
    expect([a.code, a.stderr, b.code]).toEqual([0, '', 0])
    expect(a.stdout.equals(b.stdout)).toBe(true)
    expect(JSON.parse(a.stdout.toString())).toMatchObject({ format: 'moonplumb-solution', version: 1, solvedUtc: NOW })
    expect(a.stdout.at(-1)).toBe(0x0a)
  })

  it('is quiet when the reader of a long table goes away', async () => {
    const args = ['targets', POLAR, '--now', NOW, '--target', 'sun', '--from', NOW, '--hours', '240', '--step-s', '60']
    const child = spawn(process.execPath, ['src/batch/run.mjs', ...args])
    let stderr = ''
    child.stderr.on('data', chunk => {
      stderr += chunk
    })
    child.stdout.once('data', () => child.stdout.destroy())
    const [code] = await once(child, 'close')
    expect([code, stderr]).toEqual([0, ''])
  })
})

describe('wrong usage is exit 2 and one line', () => {
  const WRONG: [string, string[], RegExp][] = [
    ['no verb', [], /a verb is missing; usage: solve/],
    ['an unknown verb', ['point', POLAR], /no verb "point"/],
    ['a verb called constructor', ['constructor', POLAR], /no verb "constructor"/],
    ['no file', ['check'], /FILE is missing/],
    ['two files', ['check', POLAR, POLAR], /an argument too many/],
    ['an unknown option', ['check', POLAR, '--fast'], /no option "--fast"/],
    ['an option called --constructor', ['check', POLAR, '--constructor'], /no option/],
    ["another verb's option", ['check', POLAR, '--feed', 'a'], /check has no option "--feed"/],
    ['an option without value', ['solve', POLAR, '--now'], /--now needs a value/],
    ['an option for a value', ['solve', POLAR, '--now', '--station'], /--now needs a value/],
    ['an option twice', ['solve', POLAR, '--now', NOW, '--now', NOW], /--now is given twice/],
    ['a solve that asks for all readings', ['solve', POLAR, '--all-readings'], /solve has no option/],
    ['a value where none belongs', [...TABLE, '--uncorrected=yes'], /--uncorrected takes no value/],
    ['a now that is none', ['check', POLAR, '--now', '2026-02-30T00:00:00Z'], /--now must be an instant/],
    ['a local now', ['solve', POLAR, '--now', '2026-02-20T00:00:00'], /--now must be an instant/],
    ['no target', table('--target'), /--target is missing/],
    ['no from', table('--from'), /--from is missing/],
    ['no hours', table('--hours'), /--hours is missing/],
    ['no step', table('--step-s'), /--step-s is missing/],
    ['a from that is none', table('--from', 'tomorrow'), /--from must be an instant/],
    ['no hour', table('--hours', '0'), /--hours must be a number above 0/],
    ['less than no hour', table('--hours', '-1'), /--hours must be a number above 0/],
    ['hours in words', table('--hours', 'two'), /--hours must be a number above 0, got "two"/],
    ['hours without end', table('--hours', 'Infinity'), /--hours must be/],
    ['hours in hexadecimal', table('--hours', '0x10'), /--hours must be/],
    ['no step forward', table('--step-s', '0'), /--step-s must be a number above 0/],
    ['a table of 3.6 million rows', table('--step-s', '0.001'), /more than 1000000 rows/],
    ['a table beyond the calendar', table('--hours', '1e9').toSpliced(-1, 1, '1e9'), /beyond the year 9999/],
    ['windows without days', spells('--days'), /--days is missing/],
    ['windows without a target', spells('--target'), /--target is missing/],
    ['windows without a start', spells('--from'), /--from is missing/],
    ['windows of no day', spells('--days', '0'), /--days must be a number above 0, got "0"/],
    ['windows of more days than anyone wants', spells('--days', '10001'), /--days must be at most 10000, got "10001"/],
    ['windows beyond the calendar', spells('--from', '9999-12-31T00:00:00Z'), /beyond the year 9999/],
    ['windows by the hour', [...WINDOWS, '--hours', '3'], /windows has no option "--hours"/],
    ['half a partner', [...WINDOWS, '--partner', '52'], /--partner must be LAT,LON in degrees.*got "52"/],
    ['a partner too far north', [...WINDOWS, '--partner', '91,0'], /--partner must be LAT,LON/],
    ['a partner too far east', [...WINDOWS, '--partner', '0,181'], /--partner must be LAT,LON/],
    ['a partner and a half', [...WINDOWS, '--partner', '1,2,3'], /--partner must be LAT,LON/],
    ['a partner in letters', [...WINDOWS, '--partner', 'JN,58'], /--partner must be LAT,LON/],
    [
      'a partner of a landmark',
      [...spells('--target', 'landmark:10,20'), '--partner', '1,2'],
      /a landmark cannot be shared/,
    ],
    ['a recipe with a value for --text', ['recipe', POLAR, '--text=yes'], /--text takes no value; usage: recipe FILE/],
    ['a recipe for a target', ['recipe', POLAR, '--target', 'moon'], /recipe has no option "--target"/],
    ['a recipe of no file', ['recipe', '--text'], /FILE is missing/],
    ['a solve as text', ['solve', POLAR, '--text'], /solve has no option "--text"/],
    ['a satellite nowhere', table('--target', 'geostationary:east'), /--target: geostationary:LON needs/],
    ['a landmark without elevation', table('--target', 'landmark:10'), /--target: landmark:AZ,EL needs/],
  ]
  it.each(WRONG)('%s', (_what, args, says) => {
    const { exit, stdout, stderr } = here(...args)
    expect([exit, stdout, stderr.length]).toEqual([2, '', 1])
    expect(stderr[0]).toMatch(says)
    expect(stderr[0]).not.toMatch(/[\n\r]/)
  })
})

describe('a bad file or an unknown name is exit 1 and one line a fault', () => {
  const two: AnyBook = { ...smallBook(), stations: [bareStation('one'), bareStation('two')] }
  two.stations[1].name = 'Second\u202e\n'

  const BAD: [string, () => string[], RegExp[]][] = [
    [
      'a file that is not there',
      () => ['check', join(folder, 'none.json')],
      [/cannot read ".*": there is no such file/],
    ],
    ['a folder', () => ['solve', folder], [/cannot read ".*": it is a folder/]],
    ['an empty file', () => ['check', fileOf('')], [/the file is empty/]],
    [
      'a file cut off',
      () => ['check', fileOf(JSON.stringify(smallBook()).slice(0, 500))],
      [/cut off at line 1, column/],
    ],
    ['a file that is not UTF-8', () => ['check', fileOf(new Uint8Array([0x7b, 0xff, 0x7d]))], [/not text in UTF-8/]],
    [
      'a newer version',
      () => ['solve', fileOf({ ...smallBook(), version: 2 })],
      [/version 2; this Moonplumb reads version 1: update it/],
    ],
    [
      'another format',
      () => ['check', fileOf({ format: 'shopping' })],
      [/not a moonplumb field book: format is "shopping"/],
    ],
    ['100 000 levels', () => ['check', fileOf('['.repeat(100_000))], [/nested deeper than 100 levels/]],
    ['an unknown target', () => table('--target', 'mars'), [/no target "mars"; targets are moon, sun/]],
    [
      'an unknown source',
      () => table('--target', 'source:Nowhere'),
      [/no radio source "Nowhere"; known are Cassiopeia A/],
    ],
    ['windows of an unknown target', () => spells('--target', 'mars'), [/no target "mars"/]],
    ['windows of an unknown source', () => spells('--target', 'source:Nowhere'), [/no radio source "Nowhere"/]],
    ['windows for an unknown feed', () => [...WINDOWS, '--feed', 'zz', '--now', NOW], [/no feed "zz"/]],
    [
      'windows of an unknown station',
      () => [...WINDOWS, '--station', 'Elsewhere', '--now', NOW],
      [/no station "Elsewhere"/],
    ],
    ['a recipe for an unknown feed', () => ['recipe', POLAR, '--feed', 'zz', '--now', NOW], [/no feed "zz"/]],
    ['a recipe of an unknown station', () => ['recipe', POLAR, '--station', 'Elsewhere'], [/no station "Elsewhere"/]],
    ['a recipe of a file cut off', () => ['recipe', fileOf('{')], [/cut off/]],
    ['an unknown feed', () => [...TABLE, '--feed', 'zz', '--now', NOW], [/no feed "zz"/]],
    [
      'an unknown station',
      () => ['solve', POLAR, '--station', 'Elsewhere'],
      [/no station "Elsewhere".*"Ridge test dish"/],
    ],
    [
      'several stations and none named',
      () => ['solve', fileOf(two)],
      [/several stations.*"Station one".*"Second\\u202e\\u000a"/],
    ],
    ['no station', () => ['solve', fileOf({ ...smallBook(), stations: [] })], [/no station/]],
    [
      'three faults',
      () => ['solve', fileOf({ ...smallBook(), exportedUtc: 1, stations: [1, 2] })],
      [/exportedUtc/, /stations\[0\]/, /stations\[1\]/],
    ],
  ]
  it.each(BAD)('%s', (_what, args, says) => {
    const { exit, stdout, stderr } = here(...args())
    expect([exit, stdout]).toEqual([1, ''])
    expect(stderr).toHaveLength(says.length)
    says.forEach((pattern, i) => {
      expect(stderr[i]).toMatch(pattern)
      expect(stderr[i]).not.toMatch(/[\p{Cc}\u202e]| at .*\.ts/u)
    })
  })

  it('a file of 60 MB, which is refused by its size and not read', () => {
    const file = fileOf('{')
    truncateSync(file, 60e6)
    expect(here('check', file)).toEqual({
      exit: 1,
      stdout: '',
      stderr: ['a field book has at most 50 MB, this file has 60.0 MB'],
    })
  })
})

describe('answers', () => {
  it('takes a station by name, and options as --name=value', () => {
    const two = { ...smallBook(), stations: [bareStation('one'), bareStation('two')] }
    const { exit, stdout, stderr } = here('solve', fileOf(two), '--station=Station two', `--now=${NOW}`)
    expect([exit, stderr]).toEqual([0, []])
    expect(JSON.parse(stdout)).toMatchObject({ station: 'Station two', solvedUtc: NOW })
  })

  it("reads the machine's clock only without --now", () => {
    expect(JSON.parse(here('solve', POLAR).stdout).solvedUtc).toBe('2026-05-02T00:00:00.123Z')
    const clockless = run(['solve', POLAR, '--now', NOW], () => {
      throw new Error('the clock was read')
    })
    expect(clockless.exit).toBe(0)
  })

  it('solves for the feed that is named, and refuses one that is not there with those that are', () => {
    const book = smallBook()
    const ids: string[] = book.stations[0].feeds.map((f: { id: string }) => f.id)
    const file = fileOf(book)
    for (const id of ids)
      expect(JSON.parse(here('solve', file, '--feed', id, '--now', NOW).stdout)).toMatchObject({ feed: id })
    const { exit, stdout, stderr } = here('solve', file, '--feed', 'zz', '--now', NOW)
    expect([exit, stdout]).toEqual([1, ''])
    expect(stderr).toEqual([`feeds: there is no feed "zz"; there is: ${ids.map(id => `"${id}"`).join(', ')}`])
  })

  it('answers a book without sightings: priors, everything open, not within', () => {
    const { stdout } = here('solve', fileOf({ ...smallBook(), stations: [bareStation('new')] }), '--now', NOW)
    const solution = JSON.parse(stdout)
    expect(solution.sky.within).toBe(false)
    expect(solution.sightings).toEqual([])
    expect(new Set(solution.parameters.map((p: { state: string }) => p.state))).toEqual(new Set(['open']))
  })

  it('prints the table as RFC 4180 wants it: header, CRLF after every row, from + k·step < hours', () => {
    const { exit, stdout, stderr } = here(...TABLE, '--now', NOW)
    expect([exit, stderr]).toEqual([0, []])
    const lines = stdout.split('\r\n')
    expect(lines[0]).toBe('utc,target,azDeg,elDeg,lower,upper,reachable')
    expect(lines.at(-1)).toBe('')
    // One hour by half hours: 00:00 and 00:30; 01:00 is not before the end.
    expect(lines.slice(1, -1).map(l => l.split(',').slice(0, 2))).toEqual([
      ['2026-05-01T00:00:00Z', 'moon'],
      ['2026-05-01T00:30:00Z', 'moon'],
    ])
    for (const line of someOf(lines.slice(1, -1))) {
      expect(line).toMatch(/^[^,]+,moon,\d+\.\d{4},-?\d+\.\d{4},(-?\d+\.\d{4})?,(-?\d+\.\d{4})?,(true|false)$/)
    }
  })

  it('prints windows: a row a spell, its edges where the target table changes its mind, a partner in the south', () => {
    const rows = (csv: string) =>
      csv
        .split('\r\n')
        .slice(1, -1)
        .map(l => l.split(','))
    const { exit, stdout, stderr } = here(...WINDOWS, '--now', NOW)
    expect([exit, stderr]).toEqual([0, []])
    expect(stdout.split('\r\n')[0]).toBe('inUtc,outUtc,hours,maxElDeg,declinationDeg,distanceKm')
    expect(rows(stdout).length).toBeGreaterThanOrEqual(3)
    const args = ['targets', POLAR, '--target', 'moon', '--from', NOW, '--hours', '72', '--step-s', '60', '--now', NOW]
    for (const [utc, , , , , , reachable] of someOf(rows(here(...args).stdout))) {
      const isInside = rows(stdout).some(
        ([a, b]) => Date.parse(utc!) >= Date.parse(a!) && Date.parse(utc!) <= Date.parse(b!),
      )
      expect([utc, reachable]).toEqual([utc, String(isInside)])
    }
    const shared = rows(here(...WINDOWS, '--partner', '-33.9,151.2', '--now', NOW).stdout)
    const sum = (r: string[][]) => r.reduce((a, [, , hours]) => a + Number(hours), 0)
    expect(sum(shared)).toBeLessThan(sum(rows(stdout)))
    expect(here(...WINDOWS, '--now', NOW).stdout).toBe(stdout)
  })

  it('prints the recipe, for the feed that is named, as JSON or to read: the same numbers, the same bytes twice', () => {
    const { exit, stdout, stderr } = here('recipe', POLAR, '--now', NOW)
    expect([exit, stderr]).toEqual([0, []])
    const recipe = JSON.parse(stdout)
    expect(recipe).toMatchObject({ format: 'moonplumb-recipe', version: 1, station: 'Ridge test dish', madeUtc: NOW })
    expect(stdout.endsWith('}\n')).toBe(true)
    expect(here('recipe', POLAR, '--now', NOW, '--feed', recipe.feed.id).stdout).toBe(stdout)
    const text = here('recipe', POLAR, '--text', '--now', NOW).stdout
    expect(text).toMatch(/^MOONPLUMB RECIPE 1\nStation: {3}"Ridge test dish", /)
    expect(text).toContain(`  P = (${recipe.built.lowerAxis.join(', ')}) `)
    // Columns and digits: places to three decimals, angles to four.
    const rows = text.match(/^ {2,}\d+\.\d{3} +-?\d+\.\d{3}( +-?\d+\.\d{4}){3}( +-?\d+\.(\d\d|\d{4})){2}$/gm)
    expect(rows).toHaveLength(10)
    expect(here('recipe', POLAR, '--text', '--now', NOW).stdout).toBe(text)
  })

  it('prints the field report, as JSON or to read: the same numbers, the same bytes twice', () => {
    const { exit, stdout, stderr } = here('report', POLAR, '--now', NOW)
    expect([exit, stderr]).toEqual([0, []])
    const report = JSON.parse(stdout)
    expect(report).toMatchObject({ format: 'moonplumb-report', version: 1, station: 'Ridge test dish', madeUtc: NOW })
    expect(report.solution).toEqual(JSON.parse(here('solve', POLAR, '--now', NOW).stdout))
    const text = here('report', POLAR, '--text', '--now', NOW).stdout
    expect(text).toMatch(/^MOONPLUMB FIELD REPORT\nStation: {2}"Ridge test dish"\n/)
    expect(text).toMatch(new RegExp(`^Made: {5}${NOW} by Moonplumb \\d+\\.\\d+\\.\\d+$`, 'm'))
    expect(here('report', POLAR, '--text', '--now', NOW).stdout).toBe(text)
  })

  it('prints counts to two decimals, and quotes a target that holds a comma', () => {
    const jacks = 'tests/examples/two-jacks.fieldbook.json'
    const args = ['--target', 'landmark:150,30', '--from', NOW, '--hours', '0.5', '--step-s', '1800', '--now', NOW]
    const [, row] = here('targets', jacks, ...args).stdout.split('\r\n')
    expect(row).toMatch(/^2026-05-01T00:00:00Z,"landmark:150,30",150\.0000,30\.0000,-?\d+\.\d\d,-?\d+\.\d\d,true$/)
  })

  it('leaves out the readings of what is out of reach, unless --all-readings', () => {
    const args = TABLE.toSpliced(TABLE.indexOf('--hours') + 1, 1, '24')
    const rows = (csv: string) =>
      csv
        .trim()
        .split('\r\n')
        .slice(1)
        .map(l => l.split(','))
    const short = rows(here(...args, '--now', NOW).stdout)
    const all = rows(here(...args, '--now', NOW, '--all-readings').stdout)
    expect(short.filter(r => r[6] === 'false').every(r => r[4] === '' && r[5] === '')).toBe(true)
    expect(all.filter(r => r[6] === 'false' && r[4] !== '').length).toBeGreaterThan(0)
    expect(all.map(r => [...r.slice(0, 4), r[6]])).toEqual(short.map(r => [...r.slice(0, 4), r[6]]))
  })

  it('gives the paper mount when asked: uncorrected readings differ from corrected ones', () => {
    const corrected = here(...TABLE, '--now', NOW).stdout
    const paper = here(...TABLE, '--now', NOW, '--uncorrected').stdout
    const places = (csv: string) => csv.split('\r\n').map(l => l.split(',').slice(0, 4).join())
    expect(places(paper)).toEqual(places(corrected))
    expect(paper).not.toBe(corrected)
  })

  it.each(
    readFileSync('tests/examples/README.md', 'utf8')
      .match(/^\| `[a-z-]+`/gm)!
      .map(l => l.slice(3, -1)),
  )('checks the example %s', name => {
    expect(here('check', `tests/examples/${name}.fieldbook.json`).stdout).toMatch(/^ok: 1 station, \d+ sightings/)
  })
})
