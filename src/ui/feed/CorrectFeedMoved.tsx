/** A feed was moved: by how much it really was; the change is kept with where the feed is now expected. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { takeUtc } from '../../state/ask.ts'
import { fieldBook, newId } from '../../state/book.ts'
import { changeOfMove, feedsOf } from '../../state/feed.ts'
import { keepMountRecord } from '../../state/mountrecords.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { DishCautions } from '../kit/DishCautions.tsx'
import { NumberField, TextField, UtcField } from '../kit/fields.tsx'
import { lengthUnit, seenText } from '../kit/format.ts'
import { backToStep } from '../kit/guided.ts'
import { useKeep } from '../kit/keep.tsx'
import { useKept } from '../kit/keptany.ts'
import { KINDS } from '../kit/kinds.ts'
import { KeepingNotes } from '../kit/mount/parts.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { SIGHTING } from '../kit/sighting/words.ts'
import { typedUtc } from '../kit/utcfield.ts'
import { fieldsOfMove, type MovedForm, readMoved } from './form.ts'
import { FEED, movedWords, verdictSays } from './words.ts'

export function CorrectFeedMoved({ station, id }: { station: StationRecord; id: string }) {
  const feed = station.feeds.find(f => f.id === id)
  if (!feed)
    return (
      <CorrectFrame station={station} title={FEED.movedTitle}>
        <Sentence>{FEED.noFeed}</Sentence>
      </CorrectFrame>
    )
  return <Moved station={station} id={id} name={seenText(feed.name)} />
}

function Moved({ station, id, name }: { station: StationRecord; id: string; name: string }) {
  const unit = lengthUnit()
  const kept = `feed.${station.id}.${id}.${unit}`
  const stamp = () => typedUtc(takeUtc())
  const [form, setForm] = useKept<MovedForm>(kept, () => ({
    across: '',
    side: '',
    along: '',
    way: '',
    utc: stamp(),
    note: '',
  }))
  const set = (change: Partial<MovedForm>) => setForm(before => ({ ...before, ...change }))
  const [own] = useState(newId)
  const { keep, refused } = useKeep([kept], own)
  const { value: feeds } = useAsked(useSolveKey(station), () => feedsOf(station))
  const advised = feeds?.find(f => f.feed === id)
  const read = readMoved(form, unit)
  const { value: change, asking } = useAsked(read.kind === 'ready' ? JSON.stringify(read) : null, async () =>
    read.kind === 'ready' ? changeOfMove(station, read.utc, { feed: id, ...read }) : null,
  )
  const notNow =
    read.kind === 'not-yet' ? FEED.missing[read.why] : change === null || asking ? FEED.missing.computing : null
  const press = () => {
    if (read.kind !== 'ready' || change === null) return
    const note = form.note.trim() || FEED.note(movedWords(read, unit))
    const record = { id: own, utc: read.utc, ...change, note }
    void keep(
      () => keepMountRecord(station, { kind: 'change', record }),
      backToStep(() => go('mount', 'see', 'change', own)),
    )
  }
  return (
    <CorrectFrame
      station={station}
      title={FEED.movedTitle}
      action={
        <Action notNow={fieldBook.unsaved.value.length > 0 ? SIGHTING.notYetKept : notNow} onPress={press}>
          {FEED.keep}
        </Action>
      }
    >
      <Sentence strong>{name}</Sentence>
      <DishCautions station={station} reach />
      {advised && <Text>{verdictSays(advised, unit)}</Text>}
      {advised?.verdict === 'move' && (
        <ButtonRow>
          <SecondaryButton onPress={() => set(fieldsOfMove(advised.move, unit))}>
            {FEED.asAdvised(movedWords(advised.move, unit))}
          </SecondaryButton>
        </ButtonRow>
      )}
      <NumberField
        label={FEED.across}
        kind={KINDS[unit]}
        text={form.across}
        onText={across => set({ across })}
        hint={FEED.zero}
      />
      <Choice
        label={FEED.acrossSide}
        value={form.side === '' ? null : form.side}
        options={[
          { value: 'left', word: FEED.left },
          { value: 'right', word: FEED.right },
        ]}
        onPick={side => set({ side })}
      />
      <NumberField
        label={FEED.along}
        kind={KINDS[unit]}
        text={form.along}
        onText={along => set({ along })}
        hint={FEED.zero}
      />
      <Choice
        label={FEED.alongSide}
        value={form.way === '' ? null : form.way}
        options={[
          { value: 'up', word: FEED.up },
          { value: 'down', word: FEED.down },
        ]}
        onPick={way => set({ way })}
      />
      <UtcField label={FEED.when} text={form.utc} onText={utc => set({ utc })} onNow={() => set({ utc: stamp() })} />
      <TextField label="Note" text={form.note} onText={note => set({ note })} hint="Optional." />
      <Text quiet>{FEED.movedWhy}</Text>
      <KeepingNotes refused={refused} />
      <ButtonRow>
        <SecondaryButton onPress={() => go('correct', 'feed')}>{FEED.back}</SecondaryButton>
      </ButtonRow>
    </CorrectFrame>
  )
}
