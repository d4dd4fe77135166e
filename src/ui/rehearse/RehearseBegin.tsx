/** Where a rehearsal begins: which mount, how hard, from which number, at which hour. */
import { useState } from 'preact/hooks'
import type { MountKind } from '../../core/records/fieldbook.ts'
import { RANGES } from '../../core/records/ranges.ts'
import { DIFFICULTIES, type Difficulty, FIRST_SEED, type RehearsalSetup } from '../../core/rehearse/setup.ts'
import { DAY_MS, HOUR_MS } from '../../core/units.ts'
import { fieldBook } from '../../state/book.ts'
import { clockMs } from '../../state/now.ts'
import { beginRehearsal } from '../../state/rehearse.ts'
import { Action } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField, UtcField } from '../kit/fields.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { bounds, parseNumber } from '../kit/numberfield.ts'
import { Name, Sentence, Text } from '../kit/numbers.tsx'
import { isInvented, MOUNT_WORDS } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { parseUtc, utcText } from '../kit/utcfield.ts'
import { isSheetOpen, tab } from './open.ts'
import { DIFFICULTY_WORDS, REHEARSE } from './words.ts'

const SEED = { form: 'number', ...bounds(RANGES.seed) } as const
/** The next day at 10:00 UTC: the Sun is up at every place that can be drawn. */
const morningAfter = (ms: number): number => Math.floor(ms / DAY_MS + 1) * DAY_MS + 10 * HOUR_MS
const KINDS = Object.keys(MOUNT_WORDS) as MountKind[]

export function RehearseBegin() {
  const [kind, setKind] = useState<MountKind>('az-over-el')
  const [difficulty, setDifficulty] = useState<Difficulty>('beginner')
  const [seed, setSeed] = useState(() => {
    const isFirst = !fieldBook.stations.peek().some(s => s.rehearsal === true)
    return String(isFirst ? FIRST_SEED : crypto.getRandomValues(new Uint32Array(1))[0]! % 1000)
  })
  const [start, setStart] = useState(() => utcText(morningAfter(clockMs())))
  const [which, setWhich] = useState<'lent' | 'copied'>('lent')
  const [state, setState] = useState<'asking' | 'busy' | 'failed'>('asking')
  const mine =
    fieldBook.stations.value.find(s => !isInvented(s) && s.id === fieldBook.stationId.value) ??
    fieldBook.stations.value.find(s => !isInvented(s))
  const number = parseNumber(seed, SEED)
  const utc = parseUtc(start)
  const isWhole = number.kind === 'value' && Number.isInteger(number.value)
  const isReady = isWhole && utc.kind === 'value' && state !== 'busy'

  const begin = async () => {
    if (!isReady || number.kind !== 'value' || utc.kind !== 'value') return
    setState('busy')
    const { value } = number
    const base = {
      seed: value,
      difficulty,
      startUtc: new Date(utc.utcMs).toISOString().replace(/\.\d+Z$/, 'Z'),
    }
    const setup: RehearsalSetup =
      which === 'copied' && mine
        ? {
            ...base,
            kind: mine.mount.kind,
            paper: {
              site: mine.site,
              dish: mine.dish,
              feeds: mine.feeds,
              mount: mine.mount,
              ...(mine.tolerance && { tolerance: mine.tolerance }),
              ...(mine.horizonMask && { horizonMask: mine.horizonMask }),
            },
          }
        : { ...base, kind }
    if (await beginRehearsal(REHEARSE.name(value), setup)) {
      tab.value = 'drive'
      isSheetOpen.value = false
      go('now')
    } else setState('failed')
  }

  return (
    <Screen
      title={REHEARSE.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={
        <Action onPress={() => void begin()} off={!isReady}>
          {state === 'busy' ? REHEARSE.preparing : REHEARSE.begin}
        </Action>
      }
    >
      <Sentence>{REHEARSE.why}</Sentence>
      {state === 'failed' && (
        <Notice state="stop" live="alert">
          {REHEARSE.failed}
        </Notice>
      )}
      {mine && (
        <Choice
          label={REHEARSE.which}
          long
          options={[
            { value: 'lent', word: REHEARSE.lent },
            { value: 'copied', word: REHEARSE.copied, note: <Name>{mine.name}</Name> },
          ]}
          value={which}
          onPick={setWhich}
        />
      )}
      {which === 'lent' && (
        <Choice
          label={REHEARSE.kind}
          long
          options={KINDS.map(value => ({ value, word: MOUNT_WORDS[value] }))}
          value={kind}
          onPick={setKind}
        />
      )}
      <Choice
        label={REHEARSE.difficulty}
        long
        options={DIFFICULTIES.map(value => ({ value, ...DIFFICULTY_WORDS[value] }))}
        value={difficulty}
        onPick={setDifficulty}
      />
      <NumberField label={REHEARSE.seed} kind={SEED} text={seed} onText={setSeed} hint={REHEARSE.seedHint} />
      <UtcField label={REHEARSE.start} text={start} onText={setStart} />
      <Text quiet>{REHEARSE.stays}</Text>
    </Screen>
  )
}
