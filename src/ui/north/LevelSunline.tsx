/** The Sun's line: where a plumb line's shadow falls now, and when it lies along true north or the mount's heading. */
import { useMemo, useState } from 'preact/hooks'
import { checkAt } from '../../core/records/clockchecks.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { stationFromRecord } from '../../core/records/stationintake.ts'
import { crossings, shadowAt } from '../../core/sky/sunline.ts'
import { degFromRad, HOUR_MS, type Rad, radFromDeg } from '../../core/units.ts'
import { trueNow } from '../../state/ask.ts'
import { now } from '../../state/now.ts'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { KINDS } from '../kit/kinds.ts'
import { MountFrame } from '../kit/mount/parts.tsx'
import { Notice } from '../kit/Notice.tsx'
import { numberOf } from '../kit/numberfield.ts'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { RosePlot } from './RosePlot.tsx'
import { clockOutWords, crossingWords, SUNLINE, sunlineShadowWords } from './words.ts'

/** Drawn again when it has turned by a tenth of a degree. */
const tenth = (az: Rad): number => Math.round(10 * degFromRad(az)) / 10

type Along = 'north' | 'mount' | 'other'

export function LevelSunline({ station }: { station: StationRecord }) {
  const { headingDeg } = station.mount
  const hasHeading = headingDeg !== undefined
  const [along, setAlong] = useState<Along>('north')
  const [other, setOther] = useState('')
  const site = useMemo(() => stationFromRecord(station).site, [station])
  // A check is found by what the phone’s clock shows; all else goes by the true time.
  const check = checkAt(station, new Date(now.value).toISOString())
  const trueMs = trueNow.value
  const shadow = shadowAt(site, trueMs)
  const bearingDeg = along === 'north' ? 0 : along === 'mount' ? (headingDeg ?? null) : numberOf(other, KINDS.heading)
  return (
    <MountFrame station={station} title={SUNLINE.title}>
      <Notice state="caution">{SUNLINE.never}</Notice>
      {shadow.kind === 'shadow' ? (
        <div class="sun-now">
          <BigNumber label={SUNLINE.shadowAt} value={fixed(degFromRad(shadow.az), 1)} unit="°" size={1} />
        </div>
      ) : null}
      <RosePlot
        sunAzDeg={shadow.kind === 'shadow' ? tenth(shadow.sunAz) : null}
        shadowAzDeg={shadow.kind === 'shadow' ? tenth(shadow.az) : null}
        headingDeg={headingDeg ?? null}
      />
      {sunlineShadowWords(shadow).map(words => (
        <Sentence key={words.slice(0, 12)}>{words}</Sentence>
      ))}
      <Choice
        label={SUNLINE.bearing}
        long
        value={along}
        options={[
          { value: 'north', word: SUNLINE.north },
          ...(hasHeading ? [{ value: 'mount' as const, word: SUNLINE.mount, note: `${fixed(headingDeg, 1)}°` }] : []),
          { value: 'other', word: SUNLINE.other },
        ]}
        onPick={setAlong}
      />
      {along === 'other' && (
        <NumberField label={SUNLINE.otherLabel} kind={KINDS.heading} text={other} onText={setOther} />
      )}
      {bearingDeg !== null && <Next station={station} bearingDeg={bearingDeg} trueMs={trueMs} />}
      <Text>{SUNLINE.clock(check ? SUNLINE.clockIn : clockOutWords(shadow))}</Text>
      <HelpLine>
        <Text>{SUNLINE.lead}</Text>
        <Text>{SUNLINE.sure}</Text>
      </HelpLine>
    </MountFrame>
  )
}

/** The next times, looked up once an hour and counted down by the second. */
function Next({ station, bearingDeg, trueMs }: { station: StationRecord; bearingDeg: number; trueMs: number }) {
  const hour = Math.floor(trueMs / HOUR_MS)
  const found = useMemo(
    () => crossings(stationFromRecord(station).site, radFromDeg(bearingDeg), hour * HOUR_MS, (hour + 25) * HOUR_MS),
    [station, bearingDeg, hour],
  )
  const [next, later] = found.filter(c => c.utcMs > trueMs).map(c => crossingWords(c, trueMs, bearingDeg))
  if (!next) return <Notice state="next">{SUNLINE.noneToday}</Notice>
  return (
    <Notice state="next" word={SUNLINE.next}>
      <div class="sun-next">
        <BigNumber value={next.countdown} size={3} />
      </div>
      <p>{next.text}</p>
      {later && (
        <p>
          {SUNLINE.after}: {later.text}
        </p>
      )}
    </Notice>
  )
}
