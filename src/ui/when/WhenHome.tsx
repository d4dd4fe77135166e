/** "When": hours in reach, the spell to come, and the days as a strip. */
import { useMemo, useState } from 'preact/hooks'
import type { WindowsJson } from '../../core/plan/windowsjson.ts'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { MINUTE_MS } from '../../core/units.ts'
import { trueNow } from '../../state/ask.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { TextField } from '../kit/fields.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { capital, targetWords } from '../kit/phrases.ts'
import { WAYS } from '../kit/ways.ts'
import {
  driveTo,
  lookFor,
  otherTarget,
  partnerFor,
  spellStretches,
  targetHere,
  targetKind,
  upOf,
  useWindows,
} from './asks.ts'
import { dayOf, monthKey, monthOfDay, monthOfText, monthOn, monthWords, type Span } from './calendar.ts'
import { Coming, StripPlot } from './StripPlot.tsx'
import { WhenFrame } from './WhenFrame.tsx'
import {
  clockWords,
  comingWords,
  hoursDigits,
  noneWhy,
  rowsWords,
  siteWords,
  spanWords,
  stripWords,
  WHEN,
} from './words.ts'

interface Props {
  station: StationRecord
  span: Span
}

/** The parts of an address after "when": the month that is shown, if any. */
export const withMonth = (span: Span, ...parts: string[]): string[] => [
  ...parts,
  ...(span.month ? [monthKey(span.month)] : []),
]

export function WhenHome({ station, span }: Props) {
  const target = targetHere()
  const { own, both, asking, failed } = useWindows(station, target, span)
  return (
    <WhenFrame
      station={station}
      title={WHEN.title}
      action={<Action onPress={() => driveTo(target)}>{WHEN.drive(target)}</Action>}
      side={<Ways span={span} target={target} />}
    >
      {failed !== null && <Notice state="stop">{failed}</Notice>}
      {own === null || (partnerFor(target) !== null && both === null) ? (
        asking && <Sentence>{WHEN.computing}</Sentence>
      ) : (
        <Days station={station} span={span} own={own} both={both} />
      )}
    </WhenFrame>
  )
}

/** The hours, then the strip. */
function Days({ station, span, own, both }: Props & { own: WindowsJson; both: WindowsJson | null }) {
  const counted = both ?? own
  return (
    <>
      {counted.spells.length === 0 ? (
        <Nothing station={station} own={own} counted={counted} />
      ) : (
        <div>
          <Sentence strong>{both ? WHEN.bothHave(own.target) : WHEN.inReach(own.target)}</Sentence>
          <BigNumber
            value={hoursDigits(counted.hours)}
            unit="h"
            beside={<Beside span={span} own={own} both={both} />}
          />
        </div>
      )}
      <Strip span={span} own={own} both={both} />
      <Text quiet>{both ? WHEN.legendBoth : WHEN.legend}</Text>
    </>
  )
}

function Beside({ span, own, both }: { span: Span; own: WindowsJson; both: WindowsJson | null }) {
  const coming = comingWords((both ?? own).spells, trueNow.value)
  return (
    <>
      {spanWords(span)}
      {both && (
        <>
          <br />
          {WHEN.here(hoursDigits(own.hours))}
        </>
      )}
      {coming && (
        <>
          <br />
          <Coming coming={coming} />
        </>
      )}
    </>
  )
}

function Nothing({ station, own, counted }: { station: StationRecord; own: WindowsJson; counted: WindowsJson }) {
  return (
    <>
      <Sentence strong>{WHEN.none(own.target)}</Sentence>
      <Text>{noneWhy(counted, station.mount)}</Text>
    </>
  )
}

function Strip({ span, own, both }: { span: Span; own: WindowsJson; both: WindowsJson | null }) {
  // By the minute: the strip shows no second.
  const nowMs = MINUTE_MS * Math.floor(trueNow.value / MINUTE_MS)
  const strip = useMemo(
    () => ({
      days: span.days,
      own: spellStretches(own.spells),
      both: both && spellStretches(both.spells),
      up: upOf(own),
      nowMs,
    }),
    [span, own, both, nowMs],
  )
  const words = useMemo(() => stripWords(own, both, span), [own, both, span])
  return (
    <StripPlot
      title={`${capital(targetWords(own.target))} ${spanWords(span)}`}
      strip={strip}
      words={words}
      onDay={key => go('when', 'day', key)}
    />
  )
}

/** What else can be looked at from here. */
function Ways({ span, target }: { span: Span; target: TargetRecord }) {
  const other = otherTarget()
  const place = partnerFor(target)
  return (
    <>
      <Choice
        label={WHEN.target}
        value={targetKind.value === 'other' && other === null ? 'moon' : targetKind.value}
        options={[
          { value: 'moon', word: 'Moon' },
          { value: 'sun', word: 'Sun' },
          ...(other ? [{ value: 'other' as const, word: capital(targetWords(other)) }] : []),
        ]}
        onPick={lookFor}
      />
      <Months span={span} />
      <div>
        <RowButton
          label={WHEN.partner}
          value={place ? siteWords(place) : WHEN.noPartner}
          onPress={() => go('when', 'partner')}
        />
        <RowButton label={WHEN.list} onPress={() => go('when', ...withMonth(span, 'list'))} />
        <RowButton label={WHEN.export} onPress={() => go('when', ...withMonth(span, 'export'))} />
        <RowButton
          label={WHEN.polarisation}
          onPress={() => go('when', 'polarisation', (span.month ? span.days[0]! : dayOf(trueNow.peek())).key)}
        />
        <RowButton label={WAYS.reach} onPress={() => go('reach')} />
      </div>
      {target.type === 'landmark' && <Text quiet>{WHEN.partnerLandmark}</Text>}
      <Text quiet>{[rowsWords(span.fromMs), ...clockWords(span)].join(' ')}</Text>
    </>
  )
}

function Months({ span }: { span: Span }) {
  const [text, setText] = useState('')
  const here = span.month ?? monthOfDay(span.days[0]!)
  const before = span.month ? monthOn(here, -1) : here
  const after = monthOn(here, 1)
  const typed = monthOfText(text)
  return (
    <>
      <ButtonRow>
        {before && (
          <SecondaryButton onPress={() => go('when', monthKey(before))}>
            {WHEN.show(monthWords(before))}
          </SecondaryButton>
        )}
        {after && (
          <SecondaryButton onPress={() => go('when', monthKey(after))}>{WHEN.show(monthWords(after))}</SecondaryButton>
        )}
        {span.month && <SecondaryButton onPress={() => go('when')}>{WHEN.show(WHEN.coming)}</SecondaryButton>}
      </ButtonRow>
      <HelpLine word={WHEN.otherMonth}>
        <TextField
          label={WHEN.month}
          text={text}
          onText={setText}
          hint={WHEN.monthHint}
          wrong={text.trim() !== '' && typed === null ? WHEN.monthWrong : null}
        />
        <SecondaryButton disabled={typed === null} onPress={() => typed && go('when', monthKey(typed))}>
          {WHEN.showIt}
        </SecondaryButton>
      </HelpLine>
    </>
  )
}
