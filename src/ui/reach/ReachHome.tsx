/** "Will it reach?": the hours of one mount or two, what takes the rest, and the ways to what is typed. */
import type { ComponentChildren } from 'preact'
import type { WillReachJson } from '../../core/plan/willreachjson.ts'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { fieldBook } from '../../state/book.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { fixed, latitude, longitude } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { placeOfTexts } from '../kit/PlaceFinder.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { WAYS } from '../kit/ways.ts'
import { formOfStation } from './form.ts'
import { useReach, useReachForm } from './kept.ts'
import { ReachMonths, ReachSky } from './ReachPlots.tsx'
import type { ReachForm } from './typed.ts'
import {
  differenceDigits,
  differenceWords,
  fromToWords,
  hoursWords,
  lossHead,
  REACH,
  shareWords,
  skylineWords,
  variantWords,
  whereLost,
} from './words.ts'

export function ReachHome() {
  const [form, setForm] = useReachForm()
  const a = useReach(form, 'a')
  const b = useReach(form, 'b', form.hasB)
  const open = !a.read.ok ? a.read : form.hasB && !b.read.ok ? b.read : null
  const failed = a.failed ?? b.failed
  const toB = () => {
    if (!form.hasB) setForm({ ...form, hasB: true, b: form.a })
    go('reach', 'b')
  }
  const both = a.value !== null && (!form.hasB || b.value !== null)
  return (
    <PlaceFrame
      present="now"
      title={WAYS.reach}
      action={
        open ? (
          <Action onPress={() => go('reach', open.part)}>{REACH.next[open.part]}</Action>
        ) : (
          <Action onPress={toB}>{form.hasB ? REACH.changeB : REACH.compare}</Action>
        )
      }
      side={
        <>
          <Typed form={form} setForm={setForm} />
          {open === null &&
            both &&
            (['a', 'b'] as const).map(which => {
              const { value } = { a, b }[which]
              const { kind } = form[which]
              if (value === null || kind === '' || (which === 'b' && !form.hasB)) return null
              const name = REACH.mount(which, form.hasB)
              const details = <Details key={which} value={value} kind={kind} name={name} />
              // With two mounts each is opened by the person.
              return form.hasB ? (
                <HelpLine key={which} word={REACH.details(name)}>
                  {details}
                </HelpLine>
              ) : (
                details
              )
            })}
        </>
      }
    >
      {failed !== null && <Notice state="stop">{failed}</Notice>}
      {open !== null ? (
        <>
          <Sentence>{REACH.lead}</Sentence>
          <Text>{open.why}</Text>
        </>
      ) : both && a.value ? (
        <Hours form={form} a={a.value} b={form.hasB ? b.value : null} />
      ) : (
        (a.asking || b.asking) && <Sentence>{REACH.computing}</Sentence>
      )}
    </PlaceFrame>
  )
}

/** The figures, then the sky, then the months. */
function Hours({ form, a, b }: { form: ReachForm; a: WillReachJson; b: WillReachJson | null }) {
  const latDeg = placeOfTexts(form)?.latDeg ?? 0
  const sky = (kind: MountKind | '', value: WillReachJson, title: string) =>
    kind !== '' && (
      <section aria-label={title}>
        <h2>{title}</h2>
        <ReachSky kind={kind} latDeg={latDeg} value={value} />
      </section>
    )
  return (
    <>
      {b === null ? (
        <BigNumber label={REACH.hours(a.year)} value={fixed(a.hours, 0)} unit="h" beside={<Beside value={a} />} />
      ) : (
        <>
          <div class="reach-two">
            <BigNumber label={REACH.mount('a', true)} value={fixed(a.hours, 0)} unit="h" size={3} />
            <BigNumber label={REACH.mount('b', true)} value={fixed(b.hours, 0)} unit="h" size={3} />
          </div>
          <BigNumber
            label={REACH.more(a.year)}
            value={differenceDigits(Math.round(b.hours) - Math.round(a.hours))}
            unit="h"
            size={2}
            beside={differenceWords(a.hours, b.hours)}
          />
        </>
      )}
      {a.hours === 0 && b === null && <Sentence strong>{REACH.none}</Sentence>}
      {sky(form.a.kind, a, b ? `${REACH.mount('a', true)}: ${REACH.skyOf}` : REACH.skyTitle)}
      {b && sky(form.b.kind, b, `${REACH.mount('b', true)}: ${REACH.skyOf}`)}
      <Text quiet>{REACH.skyCurves}</Text>
      <section aria-label={REACH.months}>
        <h2>{b ? REACH.monthsTwo : REACH.months}</h2>
        <ReachMonths a={a} b={b} />
      </section>
    </>
  )
}

function Beside({ value }: { value: WillReachJson }) {
  return (
    <>
      {REACH.perMonth(fixed(value.hours / 12, 0))}
      <br />
      {REACH.ofUp(shareWords(value.upHours > 0 ? value.hours / value.upHours : 0))}
    </>
  )
}

/** What takes the rest, what is reached, the best and the worst year. */
function Details({ value, kind, name }: { value: WillReachJson; kind: MountKind; name: string }) {
  const part = (title: string, children: ComponentChildren) => (
    <section class="book-section" aria-label={`${name}: ${title}`}>
      <h2>{`${name}: ${title.charAt(0).toLowerCase()}${title.slice(1)}`}</h2>
      {children}
    </section>
  )
  return (
    <>
      {part(
        REACH.lost,
        value.losses.length === 0 ? (
          <Text>{REACH.nothingLost}</Text>
        ) : (
          <Rows>
            {value.losses.map(l => (
              <Row key={l.to} label={lossHead(kind, l)} note={whereLost(l)}>
                {hoursWords(l.hours)}, {shareWords(l.share)}
              </Row>
            ))}
          </Rows>
        ),
      )}
      {part(
        REACH.cycle,
        <>
          <Rows>
            {value.hourAngleDeg && <Row label={REACH.hourAngle}>{fromToWords(value.hourAngleDeg)}</Row>}
            {value.declinationDeg && <Row label={REACH.declination}>{fromToWords(value.declinationDeg)}</Row>}
            <Row label={REACH.best}>
              {value.best.year}: {hoursWords(value.best.hours)}
            </Row>
            <Row label={REACH.worst}>
              {value.worst.year}: {hoursWords(value.worst.hours)}
            </Row>
          </Rows>
          <Text quiet>{REACH.cycleWhy}</Text>
        </>,
      )}
    </>
  )
}

/** What was typed, each line leading to its form. */
function Typed({ form, setForm }: { form: ReachForm; setForm: (next: ReachForm) => void }) {
  const place = placeOfTexts(form)
  const station = fieldBook.station.value
  const row = (label: string, says: string, part: string) => (
    <RowButton
      label={
        <>
          {label}
          <small class="book-small">{says}</small>
        </>
      }
      onPress={() => go('reach', part)}
    />
  )
  return (
    <>
      <div>
        {row(REACH.place, place ? `${latitude(place.latDeg, 2)}, ${longitude(place.lonDeg, 2)}` : REACH.open, 'place')}
        {row(REACH.mount('a', form.hasB), variantWords(form.a), 'a')}
        {form.hasB && row(REACH.mount('b', true), variantWords(form.b), 'b')}
        {row(REACH.sky, skylineWords(form), 'sky')}
        {station && (
          <RowButton
            label={REACH.take(station.name)}
            onPress={() => setForm({ ...formOfStation(station), hasB: form.hasB, b: form.b })}
          />
        )}
      </div>
      {form.hasB && <SecondaryButton onPress={() => setForm({ ...form, hasB: false })}>{REACH.dropB}</SecondaryButton>}
    </>
  )
}
