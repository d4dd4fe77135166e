/**
 * The hard faults of the rehearsal one by one, ten dishes each (SEEDS), hard ones, of all kinds in turn, and the same dishes without the fault:
 * how often the app names the cause, first or alone; among others that explain as much; says nothing; says something else instead;
 * and how often it accuses a dish without the fault of it. Observed for six days (tests/helpers/hardcases.ts), the clock compared where
 * the app asks for it and, for the clock's own case, not at all as well. A stop: whether the book has it once both ends were driven to.
 */
import { HARD_FAULTS, type HardFault } from '../../src/core/rehearse/faults.ts'
import { type AppSaid, type Naming, namingOf } from '../../src/core/rehearse/named.ts'
import { hardTrial, type StopTrial, stopTrial, type Trial } from '../helpers/hardcases.ts'

const SEEDS = Number(process.env.SEEDS ?? 10)
type Shown = Exclude<HardFault, 'stop'>

/** A number that was found where it is not: a dish without the fault has an ordinary feed and ordinary lost motion. */
const misplaced = ({ world, said }: Trial, ...ids: readonly string[]): boolean => {
  const { truth } = world.mountAt(world.trueMs(Date.parse(said.solution.solvedUtc)))
  return said.solution.parameters.some(p => {
    const key = p.feed === undefined ? p.id : `${p.id}:${p.feed}`
    return ids.includes(p.id) && Math.abs(p.value - (truth[key] ?? 0)) > 3 * p.sigma
  })
}

function accuses(trial: Trial, fault: Shown): boolean {
  if (fault === 'feed') return misplaced(trial, 'feedRight')
  if (fault === 'backlash')
    return misplaced(trial, 'lowerPlay', 'upperPlay') || firsts(trial.said).includes('lost-motion')
  const axes = fault === 'slip' ? (['lower', 'upper'] as const) : ([undefined] as const)
  return axes.some(axis => namingOf(fault, trial.said, { ...(axis && { axis }) }) === 'named')
}

/** What stands first in what the app says; of lost motion and feeds only what it suspects. */
const firsts = ({ solution, moved }: AppSaid): string[] => [
  ...solution.suspects.map(s => s.kind),
  ...(moved?.verdict === 'moved' ? [`moved: ${moved.check?.explanations[0]?.kinds.join('+') ?? 'unexplained'}`] : []),
]

function namedAs({ world, said }: Trial, fault: Shown): Naming {
  const { slip, backlash, feedOff, clockErrorS } = world.faults
  const axis = fault === 'slip' ? slip?.axis : fault === 'backlash' ? backlash?.axis : undefined
  return namingOf(fault, said, { ...(axis && { axis }), ...(feedOff && { feed: feedOff.feed }), seconds: clockErrorS })
}

/** By how much the sightings' times are wrong with what the clock checks made of them, the worst, s. */
const worstTimeS = ({ world, said }: Trial): number =>
  Math.max(
    ...said.station.sightings.map(s => {
      const ms = Date.parse(s.utc)
      return Math.abs(ms - 1000 * (s.clockOffsetS ?? 0) - world.trueMs(ms)) / 1000
    }),
  )

function stops(trials: readonly StopTrial[]) {
  const sum = (of: (t: StopTrial) => number) => trials.reduce((a, t) => a + of(t), 0)
  return {
    of: trials.length,
    inTheBook: trials.filter(t => t.isKnown).length,
    endsElsewhereThanLabelled: sum(t => t.elsewhere),
    moonCalledWithinReachBeyondTheStop: sum(t => t.beyond) / sum(t => t.rows),
  }
}

function figures(trials: readonly Trial[], clean: readonly Trial[], fault: Shown) {
  const rows = trials.map(t => ({ naming: namedAs(t, fault), says: firsts(t.said) }))
  const count = (is: (r: (typeof rows)[number]) => boolean) => rows.filter(is).length
  return {
    of: rows.length,
    named: count(r => r.naming === 'named'),
    rival: count(r => r.naming === 'rival'),
    nothing: count(r => r.naming === 'not' && r.says.length === 0),
    wrong: count(r => r.naming === 'not' && r.says.length > 0),
    worstTimeS: Math.max(...trials.map(worstTimeS)),
    falselyAccused: clean.filter(t => accuses(t, fault)).length,
    says: rows.map(r => `${r.naming}: ${r.says.join(', ')}`),
  }
}

export default async () => {
  const seeds = Array.from({ length: SEEDS }, (_, k) => k + 1)
  const note = (what: string) => console.error(`${new Date().toISOString().slice(11, 19)} ${what}`)
  const all = (fault: HardFault | null, habits: Parameters<typeof hardTrial>[2]) =>
    seeds.map(seed => {
      note(`${fault ?? 'none'} ${seed}`)
      return hardTrial(seed, fault, habits)
    })
  const asked = { checksClock: true }
  const clean = all(null, asked)
  const shown = HARD_FAULTS.filter((f): f is Shown => f !== 'stop')
  const out: Record<string, unknown> = Object.fromEntries(shown.map(f => [f, figures(all(f, asked), clean, f)]))
  out.clockNotCompared = figures(all('clock', {}), all(null, {}), 'clock')
  const unmarked = { ...asked, hasMarks: false }
  out.slipWithoutMarks = figures(all('slip', unmarked), all(null, unmarked), 'slip')
  out.withoutFault = clean.map(t => firsts(t.said).join(', '))
  out.stopDrivenTo = stops(seeds.map(seed => stopTrial(seed, 'stop', true)))
  out.stopNotDrivenTo = stops(seeds.map(seed => stopTrial(seed, 'stop', false)))
  out.noStopDrivenTo = stops(seeds.map(seed => stopTrial(seed, null, true)))
  return out
}
