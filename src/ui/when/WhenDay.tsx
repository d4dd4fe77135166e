/** One day: its hours, rise, transit and set, each spell with what begins and ends it, and what the target does meanwhile. */
import { useMemo } from 'preact/hooks'
import type { SpellJson, StandingJson, WindowsJson } from '../../core/plan/windowsjson.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { DAY_MS, HOUR_MS, MINUTE_MS } from '../../core/units.ts'
import { trueNow } from '../../state/ask.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { fixed, utcAndLocal } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { capital, targetWords } from '../kit/phrases.ts'
import { driveTo, partnerFor, spellStretches, targetHere, upOf, useWindows } from './asks.ts'
import { type Day, dayOf, dayOfKey } from './calendar.ts'
import { Coming, StripPlot } from './StripPlot.tsx'
import { hoursInDay } from './strip-geometry.ts'
import { WhenFrame } from './WhenFrame.tsx'
import {
  comingWords,
  DAY,
  dayWords,
  declinationWords,
  distanceWords,
  echoWords,
  edgeWords,
  highestWords,
  noiseWords,
  PASSAGE_WORDS,
  passageWords,
  pointingWords,
  siteWords,
  spellLengthWords,
  timesWords,
  WHEN,
} from './words.ts'

/** A day with the one before and the one after, so that a spell across midnight is seen whole. */
export const threeDays = (day: Day): { fromMs: number; toMs: number } => ({
  fromMs: dayOf(day.fromMs, -1).fromMs,
  toMs: dayOf(day.fromMs, 1).toMs,
})

/** The spells that have any of a day. */
export const spellsOn = <T extends { inUtc: string; outUtc: string }>(spells: readonly T[], day: Day): T[] =>
  spells.filter(s => instantMs(s.outUtc) > day.fromMs && instantMs(s.inUtc) < day.toMs)

export function WhenDay({ station, dayKey }: { station: StationRecord; dayKey: string }) {
  const day = useMemo(() => dayOfKey(dayKey), [dayKey])
  return day === null ? (
    <WhenFrame
      station={station}
      title={WHEN.title}
      action={<Action onPress={() => go('when')}>{WHEN.backToDays}</Action>}
    >
      <Sentence>{DAY.noDay}</Sentence>
    </WhenFrame>
  ) : (
    <OneDay station={station} day={day} />
  )
}

function OneDay({ station, day }: { station: StationRecord; day: Day }) {
  const target = targetHere()
  const around = useMemo(() => threeDays(day), [day])
  const { own, both, asking, failed } = useWindows(station, target, around)
  const [before, after] = [dayOf(day.fromMs, -1), dayOf(day.fromMs, 1)]
  return (
    <WhenFrame
      station={station}
      title={dayWords(day.fromMs)}
      action={<Action onPress={() => driveTo(target)}>{WHEN.drive(target)}</Action>}
      side={
        own && (
          <>
            <Standing w={own} day={day} />
            <RowButton label={WHEN.polarisation} onPress={() => go('when', 'polarisation', day.key)} />
            <ButtonRow>
              <SecondaryButton onPress={() => go('when', 'day', before.key)}>{DAY.before}</SecondaryButton>
              <SecondaryButton onPress={() => go('when', 'day', after.key)}>{DAY.after}</SecondaryButton>
            </ButtonRow>
          </>
        )
      }
    >
      {failed !== null && <Notice state="stop">{failed}</Notice>}
      {own === null ? (
        asking && <Sentence>{WHEN.computing}</Sentence>
      ) : (
        <DayTold station={station} day={day} own={own} both={both} />
      )}
    </WhenFrame>
  )
}

interface DayToldProps {
  station: StationRecord
  day: Day
  own: WindowsJson
  both: WindowsJson | null
}

function DayTold({ station, day, own, both }: DayToldProps) {
  const spells = spellsOn(own.spells, day)
  // With another end the hours that both have count, as in the strip.
  const counted = (both ?? own).spells
  const hours = hoursInDay(spellStretches(counted), day)
  const nowMs = MINUTE_MS * Math.floor(trueNow.value / MINUTE_MS)
  const strip = useMemo(
    () => ({
      days: [day],
      own: spellStretches(own.spells),
      both: both && spellStretches(both.spells),
      up: upOf(own),
      nowMs,
    }),
    [day, own, both, nowMs],
  )
  const name = capital(targetWords(own.target))
  const coming = comingWords(spellsOn(counted, day), nowMs)
  return (
    <>
      {hours > 0 ? (
        <BigNumber
          label={`${name}: ${(both ? DAY.hoursBoth : DAY.hours).toLowerCase()}`}
          value={fixed(hours, 1)}
          unit="h"
          size={2}
          {...(coming && { beside: <Coming coming={coming} /> })}
        />
      ) : (
        <Sentence strong>{`${name}: ${(both ? DAY.noSpellBoth : DAY.noSpell).toLowerCase()}`}</Sentence>
      )}
      <StripPlot
        title={`${name}, ${dayWords(day.fromMs)}`}
        strip={strip}
        words={spells.map(s => timesWords(instantMs(s.inUtc), instantMs(s.outUtc)))}
      />
      <Text quiet>{both ? WHEN.legendDayBoth : WHEN.legendDay}</Text>
      {spells.map((spell, k) => (
        <Spell
          key={spell.inUtc}
          station={station}
          day={day}
          w={own}
          both={both}
          spell={spell}
          title={DAY.spell(k, spells.length)}
        />
      ))}
      <Passages w={own} day={day} />
    </>
  )
}

interface SpellProps {
  station: StationRecord
  day: Day
  w: WindowsJson
  both: WindowsJson | null
  spell: SpellJson
  title: string
}

function Spell({ station, day, w, both, spell, title }: SpellProps) {
  const { mount } = station
  const [from, to] = [instantMs(spell.inUtc), instantMs(spell.outUtc)]
  const shared = both?.spells.filter(s => instantMs(s.outUtc) > from && instantMs(s.inUtc) < to)
  const place = partnerFor(w.target)
  return (
    <section class="book-section" aria-label={title}>
      <h2>
        {title}, {spellLengthWords(spell)}
      </h2>
      {noiseWords(spell.middle).map(words => (
        <Notice key={words} state="look-out">
          {words}
        </Notice>
      ))}
      <Rows>
        <Row label={DAY.inAt} note={edgeWords(mount, spell.inBy, 'in', from, day)}>
          {utcAndLocal(from)}
        </Row>
        <Row label={DAY.outAt} note={edgeWords(mount, spell.outBy, 'out', to, day)}>
          {utcAndLocal(to)}
        </Row>
        <Row label={DAY.highest}>{highestWords(spell)}</Row>
        <Row label={DAY.pointing} note={pointingWords(spell.pointing, w.target).note}>
          {pointingWords(spell.pointing, w.target).value}
        </Row>
        {shared && place && (
          <Row label={DAY.bothEnds} note={siteWords(place)}>
            {shared.length === 0
              ? DAY.never
              : shared.map(s => timesWords(instantMs(s.inUtc), instantMs(s.outUtc))).join('; ')}
          </Row>
        )}
      </Rows>
    </section>
  )
}

function Passages({ w, day }: { w: WindowsJson; day: Day }) {
  const passages = w.days
    .flatMap(d => d.passages)
    .filter(p => instantMs(p.utc) >= day.fromMs && instantMs(p.utc) < day.toMs)
  const isFixed = w.target.type === 'landmark' || w.target.type === 'geostationary'
  return (
    <section class="book-section" aria-label={DAY.passages}>
      <h2>{DAY.passages}</h2>
      {passages.length === 0 ? (
        <Text>{isFixed ? DAY.fixed : DAY.noPassage}</Text>
      ) : (
        <Rows>
          {passages.map(p => {
            const { time, where } = passageWords(p)
            return (
              <Row key={p.utc} label={PASSAGE_WORDS[p.what]} note={where}>
                {time}
              </Row>
            )
          })}
        </Rows>
      )}
    </section>
  )
}

/** Declination, distance, what the distance does to an echo, and what is heard behind it, at this day's transit. */
function Standing({ w, day }: { w: WindowsJson; day: Day }) {
  // The answer has three days of 24 h, which may not match the local ones: take the one that holds this day's noon.
  const noon = day.fromMs + 12 * HOUR_MS
  const own = w.days.find(d => instantMs(d.fromUtc) <= noon && instantMs(d.fromUtc) + DAY_MS > noon)
  const standing: StandingJson | undefined = own?.standing
  if (standing === undefined || w.target.type === 'landmark') return null
  return (
    <section class="book-section" aria-label={DAY.standing}>
      <h2>{DAY.standing}</h2>
      <Rows>
        <Row label={DAY.declination}>{declinationWords(standing.declinationDeg)}</Row>
        {standing.distanceKm !== null && (
          <Row
            label={DAY.distance}
            {...(standing.echoPathDb !== null && { note: `${DAY.echo} ${echoWords(standing.echoPathDb)}.` })}
          >
            {distanceWords(standing.distanceKm)}
          </Row>
        )}
      </Rows>
      <Text quiet>{DAY.at(utcAndLocal(instantMs(standing.utc)))}</Text>
    </section>
  )
}
