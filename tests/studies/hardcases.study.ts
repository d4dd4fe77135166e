/**
 * The hard faults of the rehearsal one by one, ten dishes each (SEEDS), hard ones, of all kinds in turn, and the same dishes without the fault:
 * how often the app names the cause, first or alone; among others that explain as much; says nothing; says something else instead;
 * and how often it accuses a dish without the fault of it. Observed for six days (tests/helpers/hardcases.ts); no clock was compared.
 */
import { HARD_FAULTS, type HardFault } from '../../src/core/rehearse/faults.ts'
import { type Naming, namingOf, type Said } from '../../src/core/rehearse/named.ts'
import { hardTrial, type Trial } from '../helpers/hardcases.ts'

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
const firsts = ({ solution, moved }: Said): string[] => [
  ...solution.suspects.map(s => s.kind),
  ...(moved?.verdict === 'moved' ? [`moved: ${moved.check?.explanations[0]?.kinds.join('+') ?? 'unexplained'}`] : []),
]

function namedAs({ world, said }: Trial, fault: Shown): Naming {
  const { slip, backlash, feedOff } = world.faults
  const axis = fault === 'slip' ? slip?.axis : fault === 'backlash' ? backlash?.axis : undefined
  return namingOf(fault, said, { ...(axis && { axis }), ...(feedOff && { feed: feedOff.feed }) })
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
    falselyAccused: clean.filter(t => accuses(t, fault)).length,
    says: rows.map(r => `${r.naming}: ${r.says.join(', ')}`),
  }
}

export default async () => {
  const seeds = Array.from({ length: SEEDS }, (_, k) => k + 1)
  const note = (what: string) => console.error(`${new Date().toISOString().slice(11, 19)} ${what}`)
  const all = (fault: HardFault | null, hasMarks = true) =>
    seeds.map(seed => {
      note(`${fault ?? 'none'} ${seed}`)
      return hardTrial(seed, fault, hasMarks)
    })
  const clean = all(null)
  const shown = HARD_FAULTS.filter((f): f is Shown => f !== 'stop')
  const out: Record<string, unknown> = Object.fromEntries(shown.map(f => [f, figures(all(f), clean, f)]))
  out.slipWithoutMarks = figures(all('slip', false), all(null, false), 'slip')
  out.withoutFault = clean.map(t => firsts(t.said).join(', '))
  return out
}
