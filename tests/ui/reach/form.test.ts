import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { MOUNT_KINDS } from '../../../src/core/mount/names.ts'
import { willReach } from '../../../src/core/questions.ts'
import type { MountKind } from '../../../src/core/records/fieldbook.ts'
import { emptyReachForm, formOfStation, readReach, turnedOver, withKind } from '../../../src/ui/reach/form.ts'
import type { ReachForm, Variant } from '../../../src/ui/reach/typed.ts'
import { answered } from '../../helpers/answered.ts'
import { shareOf } from '../../helpers/share.ts'
import { bookOf, COUNTED, gravelPit, weir } from '../../helpers/stations.ts'

const placed = (a: Variant, more: Partial<ReachForm> = {}): ReachForm => ({
  ...emptyReachForm(),
  lat: '47.1',
  lon: '9.3 E',
  a,
  ...more,
})
const thought = (kind: MountKind): Variant => withKind(emptyReachForm().a, kind, 47)
function answer(form: ReachForm, which: 'a' | 'b' = 'a') {
  const read = readReach(form, which, 2026)
  if (!read.ok) throw new Error(read.why)
  return answered(willReach(read.wish))
}

describe('readReach', () => {
  it('says what is missing first, a sentence each, and where it is written', () => {
    const of = (form: ReachForm) => {
      const read = readReach(form, 'a', 2026)
      return read.ok ? 'ok' : `${read.part}: ${read.why}`
    }
    expect(of(emptyReachForm())).toMatch(/^place: The place is missing/)
    expect(of(placed(emptyReachForm().a))).toBe('a: Choose the kind of mount.')
    const tilt = thought('az-over-el')
    expect(of(placed(tilt))).toBe('ok')
    expect(of(placed({ ...tilt, lowerMin: 'up' }))).toMatch(/^a: All four limits/)
    expect(of(placed({ ...tilt, upperMin: '70' }))).toBe('a: The lowest swing must be below the highest.')
    expect(of(placed({ ...tilt, heading: '' }))).toMatch(/^a: The heading is missing/)
    expect(of(placed({ ...tilt, offset: '50' }))).toMatch(/^a: The offset/)
    expect(of(placed(tilt, { minEl: '95' }))).toMatch(/^sky: The minimum elevation/)
    expect(of(placed(tilt, { skyline: ['-3', '', '', '', '', '', '', ''] }))).toMatch(/^sky: Heights/)
  })

  it('is a question that the core takes, for every kind with its usual limits, and loses hours to a skyline', () => {
    for (const kind of shareOf(MOUNT_KINDS, 1)) {
      const clear = answer(placed(thought(kind)))
      const hills = answer(placed(thought(kind), { skyline: Array.from({ length: 8 }, () => '20') }))
      expect(clear.hours).toBeGreaterThan(500)
      expect(hills.hours).toBeLessThan(clear.hours)
      expect(hills.losses.map(l => l.to)).toContain('mask')
      expect(clear.losses.map(l => l.to)).not.toContain('mask')
    }
  }, 60_000)

  it('takes 8° where no minimum elevation is written', () => {
    const read = readReach(placed(thought('x-y')), 'a', 2026)
    expect(read.ok && read.wish.minElevationDeg).toBe(8)
  })
})

describe('withKind', () => {
  it('faces the equator from both sides of it', () => {
    expect([withKind(emptyReachForm().a, 'x-y', 47).heading, withKind(emptyReachForm().a, 'x-y', -30).heading]).toEqual(
      ['180', '0'],
    )
    expect(thought('ha-dec').heading).toBe('')
  })
})

describe('turnedOver', () => {
  it('is the mount as it was when it is done twice', () => {
    const deg = fc.integer({ min: -350, max: 350 })
    fc.assert(
      fc.property(
        fc.constantFrom(...MOUNT_KINDS),
        deg,
        deg,
        fc.integer({ min: 0, max: 359 }),
        (kind, a, b, heading) => {
          fc.pre(a < b)
          const v = {
            ...thought(kind),
            lowerMin: String(a),
            lowerMax: String(b),
            upperMin: String(a),
            upperMax: String(b),
          }
          const read = (x: Variant) => readReach(placed(x), 'a', 2026)
          const own = kind === 'az-over-el' || kind === 'x-y' ? { ...v, heading: String(heading) } : v
          expect(read(turnedOver(turnedOver(own)))).toEqual(read(own))
        },
      ),
    )
  })

  it('reaches in the west what it reached in the east: the sky in a mirror', () => {
    for (const kind of shareOf(MOUNT_KINDS, 1)) {
      const v: Variant = {
        ...thought(kind),
        ...(kind === 'el-over-az' && { lowerMin: '70', lowerMax: '200' }),
        ...(kind === 'ha-dec' && { lowerMin: '-20', lowerMax: '70' }),
        ...(kind === 'az-over-el' && { upperMin: '-20', upperMax: '55', heading: '165' }),
        ...(kind === 'x-y' && { lowerMin: '-25', lowerMax: '60', heading: '165' }),
      }
      const [own, over] = [answer(placed(v)), answer(placed(turnedOver(v)))]
      const columns = own.sky.length
      let differ = 0
      let lost = 0
      for (const [a, column] of own.sky.entries())
        for (const [e, h] of column.entries()) {
          if (h !== null) lost++
          if ((h === null) !== (over.sky[columns - 1 - a]![e] === null)) differ++
        }
      // A cell whose centre lies on a limit may fall to either side.
      expect(differ, kind).toBeLessThan(4)
      expect(lost, kind).toBeGreaterThan(100)
      const asIs = own.sky.flatMap((column, a) => column.filter((h, e) => (h === null) !== (over.sky[a]![e] === null)))
      expect(asIs.length, kind).toBeGreaterThan(50)
    }
  }, 60_000)
})

describe('formOfStation', () => {
  it('fills in limits as angles, whatever the axis shows, and asks what the station’s own numbers ask', () => {
    const pit = gravelPit({
      mount: {
        kind: 'el-over-az',
        lower: { readout: { type: 'degrees' }, minReading: 20, maxReading: 340 },
        upper: COUNTED,
      },
      tolerance: { minElevationDeg: 12 },
    })
    const form = formOfStation(pit)
    expect([form.a.lowerMin, form.a.lowerMax, form.a.upperMin, form.a.upperMax]).toEqual(['20', '340', '0', '90'])
    expect([form.lat, form.lon, form.minEl, form.skyline.join('')]).toEqual(['47.1', '9.3', '12', ''])
    const read = readReach(form, 'a', 2026)
    expect(read.ok && read.wish).toMatchObject({ site: { latDeg: 47.1, lonDeg: 9.3 }, minElevationDeg: 12 })
    expect(bookOf(pit).stations).toHaveLength(1)
  })

  it('takes the skyline at the eight winds, and the heading where there is one', () => {
    const form = formOfStation({
      ...weir('az-over-el', 50),
      horizonMask: [
        { azDeg: 0, elDeg: 4 },
        { azDeg: 90, elDeg: 10 },
      ],
    })
    expect(form.skyline).toEqual(['4', '7', '10', '9', '8', '7', '6', '5'])
    expect(form.a.heading).toBe('180')
  })

  it('leaves a limit open where a jack’s triangle does not close', () => {
    const readout = {
      type: 'jack' as const,
      baseArmMm: 500,
      rodArmMm: 400,
      lengthAtReadingZeroMm: 600,
      countsPerMm: 1,
      phiAtAngleZeroDeg: 60,
      direction: 1 as const,
    }
    const pit = gravelPit({
      mount: {
        kind: 'el-over-az',
        lower: { readout: { type: 'degrees' }, minReading: 0, maxReading: 360 },
        upper: { readout, minReading: 0, maxReading: 2000 },
      },
    })
    expect(formOfStation(pit).a.upperMin).toBe('')
  })
})
