/** The robot at the app's own forms: a sighting and a level, every value filled in by a press at the dish at hand. */
import { type Act, AWAY, type Hands, number } from './hands.ts'
import { type Body, driving } from './robotdish.ts'
import { byStrongestSignal, KEPT } from './typedsighting.ts'

type Axes = readonly [string, string]

/** What it states for its peaks, degrees. */
const SIGMA: Readonly<Record<Body, string>> = { Sun: '0.1', Moon: '0.2' }

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
/** The button that fills in what a counter shows. */
const filled = (axis: string): Act => ({ press: `${axis} [−-]?[\\d.]+`, on: 'sheet' })

/** From the live dial of Sight, the dish peaked and the sheet at Drive, to a sighting in the book. */
export async function writeDown(hands: Hands, axes: Axes, body: Body): Promise<void> {
  await hands(
    { press: 'On target: mark time', on: 'screen' },
    ...axes.flatMap((name): Act[] => [{ touch: `${name}, degrees`, on: 'screen' }, filled(name)]),
    ...byStrongestSignal(SIGMA[body]),
    ...KEPT,
    AWAY,
  )
}

/** A level as advised: on the screen that the advice leads to, where it says that the axes should stand. */
export async function writeLevel(hands: Hands, axes: Axes, advice: string): Promise<void> {
  if (advice.includes('mast')) await levelOfMast(hands)
  else {
    const at = axes.map(name => new RegExp(`${name} ([−-]?[\\d.]+)`).exec(advice.split('at about')[1] ?? '')?.[1])
    const place = advice.includes('dish’s elevation')
      ? 'the dish, along its axis'
      : /Measure (the .+ axis) with/.exec(advice)![1]!
    await hands(
      ...driving(
        at.map(text => text?.replace('−', '-')),
        axes,
      ),
      ...axes.flatMap((name, k): Act[] =>
        at[k] === undefined ? [] : [{ touch: `${capital(name)} stands at`, on: 'screen' }, filled(name)],
      ),
      { press: 'Measure', on: 'sheet' },
      { pick: place, on: 'sheet' },
    )
    const [laid] = await hands({ name: 'As laid.*', on: 'sheet' })
    // Nearly level the two readings of a reversal say most; on a slope the form trusts them less than one.
    const isReversed = Math.abs(number(laid!)) < 10
    await hands(
      ...(isReversed
        ? ([
            { pick: 'Two, reversed.*', on: 'screen' },
            { touch: 'First reading', on: 'screen' },
            { press: 'As laid.*', on: 'sheet' },
            { touch: 'Second reading, reversed', on: 'screen' },
            { press: 'Turned end over end.*', on: 'sheet' },
          ] as const)
        : ([
            { touch: 'It shows', on: 'screen' },
            { press: 'As laid.*', on: 'sheet' },
          ] as const)),
    )
  }
  await hands({ press: 'Keep this level', on: 'screen' }, { gone: 'Keep this level', on: 'screen' }, AWAY)
}

function levelOfMast(hands: Hands): Promise<string[]> {
  const sides = ['north', 'east', 'south']
  return hands(
    { press: 'Measure', on: 'sheet' },
    ...sides.flatMap((side, k): Act[] => [
      { write: `Side ${k + 1}: heading from true north`, text: String(90 * k), on: 'screen' },
      { touch: `Reading ${k + 1}`, on: 'screen' },
      { press: `${side} .*`, on: 'sheet' },
    ]),
  )
}
