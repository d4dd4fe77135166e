/**
 * Levels by invented phones, with the truth beside them: one reading, a reversal, and a mast's lean from 3 to 6 headings.
 * Each phone has 20 mg on each axis; each placing sits 0.1° off; 0.08° is left by what no turn removes (a rocking camera
 * bump, a dent in the mast). Both sources as Chromium rounds them.
 */
import { mastLean } from '../../src/core/level/mastlean.ts'
import { oneReadingSigma, phoneReversalSigma, placingNoise, SEATING, type Source } from '../../src/core/level/phone.ts'
import { reversalOfUpVectors } from '../../src/core/level/reversal.ts'
import { REVERSED_BIAS } from '../../src/core/level/sigma.ts'
import { axisVector, elevationOf, lineOfEnd, turnAxisFor } from '../../src/core/level/upvector.ts'
import { degFromRad, radFromDeg } from '../../src/core/units.ts'
import { type Chance, chance } from './random.ts'
import { anyPhone, readingOf, type SimPhone, turnedBy, type Up } from './simphone.ts'

export interface PhoneTrial {
  /** Measured minus true, and the stated 1 σ, degrees. */
  missDeg: number
  sigmaDeg: number
}

const METHODS = ['one', 'reversal', 'mast 3', 'mast 4', 'mast 5', 'mast 6'] as const
export type PhoneMethod = (typeof METHODS)[number]
export const PHONE_METHODS: readonly PhoneMethod[] = METHODS
export const SOURCES: readonly Source[] = ['orientation', 'motion']

const LONG = lineOfEnd('top')

/** The up vector of a phone on its back whose top is raised by `tilt`, rolled sideways a little. */
function lying(tilt: number, roll: number): Up {
  const c = Math.cos(tilt)
  return [-c * Math.sin(roll), Math.sin(tilt), c * Math.cos(roll)]
}

const seated = (up: Up, luck: Chance): Up => turnedBy(up, [luck.normal(SEATING), luck.normal(SEATING), 0])

function one(phone: SimPhone, luck: Chance): PhoneTrial {
  const tilt = radFromDeg(luck.between(-70, 70))
  const reading = readingOf(phone, seated(lying(tilt, luck.normal(0.03)), luck), luck)
  return trial(elevationOf(LONG, reading.up) - tilt, oneReadingSigma(reading))
}

function reversal(phone: SimPhone, luck: Chance): PhoneTrial | null {
  const tilt = radFromDeg(luck.between(-70, 70))
  const up = lying(tilt, luck.normal(0.02))
  const left = luck.normal(REVERSED_BIAS)
  const rocked = turnedBy(up, [left, 0, 0])
  const first = readingOf(phone, seated(rocked, luck), luck)
  const back: Up = [rocked[0], -rocked[1], -rocked[2]]
  const second = readingOf(phone, seated(back, luck), luck)
  const r = reversalOfUpVectors(first.up, second.up, LONG, axisVector(turnAxisFor('top', first.up)))
  if (r.kind !== 'reversed') return null
  return trial(r.angle - tilt, phoneReversalSigma(r.left, first, second))
}

/** The phone upright on the mast's side, its back to the steel, at n headings spread as a person spreads them. */
function mast(phone: SimPhone, luck: Chance, n: number): PhoneTrial | null {
  const lean = radFromDeg(luck.between(0, 3))
  const toward = luck.between(0, 2 * Math.PI)
  const dents = [luck.normal(REVERSED_BIAS), luck.normal(REVERSED_BIAS)] as const
  const [north, east] = [lean * Math.cos(toward), lean * Math.sin(toward)]
  const noises: number[] = []
  const readings = Array.from({ length: n }, (_, k) => {
    const heading = (2 * Math.PI * k) / n + luck.normal(radFromDeg(5))
    // Leaning toward the side that the screen looks to: + toward the heading.
    const out = (north + dents[0]) * Math.cos(heading) + (east + dents[1]) * Math.sin(heading)
    const side = (east + dents[1]) * Math.cos(heading) - (north + dents[0]) * Math.sin(heading)
    const up: Up = [Math.sin(side), Math.cos(side) * Math.cos(out), -Math.sin(out) * Math.cos(side)]
    const reading = readingOf(phone, seated(up, luck), luck)
    noises.push(placingNoise(reading))
    return { heading, reading: -elevationOf([0, 0, 1], reading.up) }
  })
  const noise = Math.hypot(...noises) / Math.sqrt(n)
  const r = mastLean(readings, { noise, step: 0, bias: REVERSED_BIAS })
  return r.kind === 'lean' ? trial(r.north - north, r.sigma) : null
}

const trial = (miss: number, sigma: number): PhoneTrial => ({ missDeg: degFromRad(miss), sigmaDeg: degFromRad(sigma) })

export function phoneTrials(method: PhoneMethod, source: Source, n: number, seed: number): (PhoneTrial | null)[] {
  const luck = chance(seed)
  return Array.from({ length: n }, () => {
    const phone = anyPhone(luck, source)
    if (method === 'one') return one(phone, luck)
    return method === 'reversal' ? reversal(phone, luck) : mast(phone, luck, Number(method.slice(5)))
  })
}

/** What the trials came to. `refused`: no answer was given; not counted in the rest. */
export function phoneResult(list: readonly (PhoneTrial | null)[]) {
  const told = list.filter(t => t !== null)
  const rmsDeg = Math.sqrt(told.reduce((a, t) => a + t.missDeg ** 2, 0) / told.length)
  const sigmas = told.map(t => t.sigmaDeg).sort((a, b) => a - b)
  const medianSigmaDeg = sigmas[Math.floor(sigmas.length / 2)]!
  const within = told.filter(t => Math.abs(t.missDeg) <= 2 * t.sigmaDeg).length
  return {
    trials: list.length,
    refused: list.length - told.length,
    rmsDeg,
    medianSigmaDeg,
    ratio: medianSigmaDeg / rmsDeg,
    coverage: within / told.length,
  }
}
