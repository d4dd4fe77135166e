/** A half sighting: a marked time, or readings alone, to be completed with the rest. */
import { useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { fieldBook } from '../../state/book.ts'
import { now } from '../../state/now.ts'
import { dropHalf, halvesHere, isUnderway } from '../../state/sightings.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { lengthUnit, NBSP, utcDate, utcTime } from '../kit/format.ts'
import { ifStillHere } from '../kit/keep.tsx'
import { forget } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence } from '../kit/numbers.tsx'
import { isUnsaved, UnsavedNotice } from '../kit/SavedLine.tsx'
import { Screen } from '../kit/Screen.tsx'
import { clockOfHalf, filledOf, formOfHalf } from '../kit/sighting/form.ts'
import { SIGHTING } from '../kit/sighting/words.ts'
import { UtcNow } from '../kit/UtcNow.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { JoinOffers } from './SightJoin.tsx'
import type { SightPart } from './SightParts.tsx'
import { instead, ownIdOf, SightWriting } from './SightWriting.tsx'
import { SIGHT } from './words.ts'

interface HalfProps {
  station: StationRecord
  id: string
  /** One of its parts alone. */
  part?: SightPart | undefined
}

/** A marked time, to be completed with what the dish showed. Joined with its readings it is another form. */
export function HalfPlace({ station, id, part }: HalfProps) {
  const half = halvesHere(station).find(h => h.id === id)
  const [known, setKnown] = useState(half)
  // Gone when it is completed: the form that did it stays until it has left.
  if (half && half.lower !== known?.lower) setKnown(half)
  return <HalfForm key={String(known?.lower)} station={station} id={id} part={part} />
}

function HalfForm({ station, id, part }: HalfProps) {
  const waiting = halvesHere(station).find(h => h.id === id)
  const [first] = useState(waiting)
  const [ownId] = useState(() => ownIdOf(`half.${id}`))
  const initial = useMemo(
    () => ({
      ...formOfHalf(first ?? { id, utc: '', time: 'about' }, lengthUnit(), station.mount),
      ...(first && clockOfHalf(station, first)),
    }),
    [first, id],
  )
  const made = station.sightings.find(s => s.halfId === id)
  // Completed just now by this very form, which is about to go to the sighting; or being retried.
  const isMoving = made?.id === ownId || /^(saving|unsaved)$/.test(fieldBook.saving.value.kind)
  const half = waiting ?? (isMoving ? first : undefined)
  if (!half || !first) {
    return (
      <Screen title="Sight" utc={<UtcNow />} present="sight" onGo={to => go(to)}>
        <UnsavedNotice />
        <Sentence>{SIGHT.gone}</Sentence>
        {made && <RowButton label={SIGHT.seeMade} onPress={() => go('sight', 'see', made.id)} />}
        <UndoStrip of="sight" />
        <RowButton label={SIGHT.backToDial} onPress={() => go('sight')} />
      </Screen>
    )
  }
  const utcMs = instantMs(half.utc)
  const { target: of, lower, upper, arrivedFrom, method } = first
  const stamp = {
    ...(first.monotonicMs !== undefined && { monotonicMs: first.monotonicMs }),
    ...(first.clockStepS !== undefined && { clockStepS: first.clockStepS }),
  }
  const throwAway = () => {
    forget(`half.${id}`)
    const where = location.hash
    void dropHalf(station, half).then(() => ifStillHere(where, () => instead('sight', 'waiting')))
  }
  return (
    <SightWriting
      station={station}
      title={SIGHT.halfTitle(of, `${utcTime(utcMs)}${NBSP}UTC`)}
      utc={<Ago utcMs={utcMs} />}
      at={['sight', 'half', id]}
      part={part}
      filled={filledOf(first, station.mount)}
      kept={`half.${id}`}
      initial={initial}
      base={{
        id: ownId,
        utc: first.utc,
        halfId: id,
        ...(first.time === 'stamped' && { stamp }),
        ...(of && { target: of }),
        ...(lower !== undefined && { lower }),
        ...(upper !== undefined && { upper }),
        ...(arrivedFrom && { arrivedFrom }),
        ...(method && { method }),
      }}
      isKept
      dialled={half.dialled}
      halfId={id}
      whole={of === undefined}
      word={SIGHT.keep}
      lead={
        <div role="status" class="pad-lead">
          <Sentence>
            {isUnderway(id)
              ? SIGHT.keeping
              : isUnsaved(id)
                ? SIGHTING.notYetKept
                : SIGHT.readBoth(half.time === 'stamped')}
          </Sentence>
        </div>
      }
      notes={
        <>
          {half.clockStepS !== undefined && <Notice state="look-out">{SIGHTING.clockStep(half.clockStepS)}</Notice>}
          {half.time === 'about' && <Notice state="look-out">{SIGHT.aboutTime}</Notice>}
          <JoinOffers station={station} of={id} />
        </>
      }
      foot={
        <>
          <ButtonRow>
            <SecondaryButton stop onPress={throwAway}>
              {SIGHT.throwAway}
            </SecondaryButton>
          </ButtonRow>
          <UndoStrip of="sight" ids={[id]} onUndone={() => instead('sight')} />
        </>
      }
    />
  )
}

/** "8 s ago", with the date where that is long. */
function Ago({ utcMs }: { utcMs: number }) {
  const ms = now.value - utcMs
  return <span>{Math.abs(ms) < 43_200_000 ? SIGHT.ago(Math.max(0, ms)) : utcDate(utcMs)}</span>
}
