/** Check points after carrying over: three targets, what the program shows for them, and what that says of the page as typed. */
import type { CarryPage } from '../../core/carry/page.ts'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { isoOf, takeTrueMs, trueNowMs } from '../../state/ask.ts'
import { askCarryCheck, askCarryTargets, carriedPage, isEnteredAs } from '../../state/carry.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { Choice } from '../kit/Choice.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { NumberField, UtcField } from '../kit/fields.tsx'
import { FIRST_MOVE } from '../kit/firstmove.ts'
import { useKept } from '../kit/keptany.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { SIGHTING } from '../kit/sighting/words.ts'
import { utcText } from '../kit/utcfield.ts'
import { checkSaid, expectedWords, targetTitle } from './checkwords.ts'
import {
  type CheckForm,
  emptyCheck,
  isCoarse,
  needsTime,
  outputKind,
  pageKey,
  readCheck,
  type TypedTarget,
  typedTarget,
} from './form.ts'
import { CARRY, outputLabel, pageDates, wishWords } from './words.ts'

export function CarryCheck({ station }: { station: StationRecord }) {
  const page = carriedPage(station)
  if (page === null) {
    return (
      <CorrectFrame
        station={station}
        title={CARRY.checkTitle}
        action={<Action onPress={() => go('correct', 'software', 'page')}>{CARRY.toPage}</Action>}
      >
        <Sentence strong>{CARRY.noPage}</Sentence>
        <Text>{CARRY.noPageWhy}</Text>
      </CorrectFrame>
    )
  }
  if (!isEnteredAs(station, page)) {
    return (
      <CorrectFrame
        station={station}
        title={CARRY.checkTitle}
        action={<Action onPress={() => go('correct', 'software', 'page')}>{CARRY.toPage}</Action>}
      >
        <Notice state="stop">{CARRY.edited}</Notice>
      </CorrectFrame>
    )
  }
  return <Carried key={pageKey(page)} station={station} page={page} />
}

function Carried({ station, page }: { station: StationRecord; page: CarryPage }) {
  const fresh = (): CheckForm => ({ ...emptyCheck(), page: pageKey(page) })
  const [form, setForm] = useKept<CheckForm>(`carrycheck.${station.id}`, fresh, kept =>
    kept.page === pageKey(page) ? kept : fresh(),
  )
  const feed = feedOfPage(station, page)
  const solve = useSolveKey(station)
  const isLooking = form.targets.length === 0
  const found = useAsked(isLooking ? `${solve} ${feed} ${pageKey(page)} ${form.wish}` : null, async () => {
    const told = await askCarryTargets(station, feed, page, form.wish)
    if (told?.kind === 'told') setForm(now => ({ ...now, targets: told.value.map(typedTarget) }))
    return told
  })
  const typed = readCheck(form, page, isoOf(trueNowMs(station)))
  const { solution } = answer.value
  const isChanged = solution !== null && solution.setupFromUtc !== page.setupFromUtc
  return (
    <CorrectFrame
      station={station}
      title={CARRY.checkTitle}
      action={
        form.isOpen ? (
          <Action notNow={typed === null ? CARRY.typeOne : null} onPress={() => setForm({ ...form, isOpen: false })}>
            {CARRY.ask}
          </Action>
        ) : (
          <Action onPress={() => setForm({ ...form, isOpen: true })}>{CARRY.edit}</Action>
        )
      }
      side={
        <>
          <Caution {...FIRST_MOVE} />
          <ButtonRow>
            <SecondaryButton onPress={() => go('correct', 'software', 'page')}>{CARRY.toPage}</SecondaryButton>
            <SecondaryButton onPress={() => setForm({ ...fresh(), wish: form.wish })}>{CARRY.other}</SecondaryButton>
          </ButtonRow>
        </>
      }
    >
      {isChanged && <Notice state="stop">{CARRY.changed}</Notice>}
      {form.isOpen ? (
        <>
          <Sentence>{CARRY.checkLead}</Sentence>
          <Text>{CARRY.still}</Text>
          <Text quiet>
            {wishWords(page.wish)}. {pageDates(page)}
          </Text>
          <Choice
            label={CARRY.told}
            value={form.wish}
            options={[
              { value: 'any', word: CARRY.any },
              { value: 'bodies', word: CARRY.bodies },
            ]}
            onPick={wish => setForm({ ...fresh(), wish })}
          />
          {found.asking && <Text>{CARRY.targetsAsked}</Text>}
          {found.told?.kind === 'failed' && <Notice state="stop">{`${CARRY.failed} ${found.told.message}`}</Notice>}
          {isLooking && found.value?.length === 0 && <Text>{CARRY.noTargets}</Text>}
          {form.targets.some(t => t.target.type === 'sun') && <Caution {...CARRY.sun} />}
          {form.targets.map((t, k) => (
            <TargetFields
              key={`${k} ${targetTitle(t)}`}
              page={page}
              typed={t}
              onChange={change =>
                setForm(now => ({ ...now, targets: now.targets.map((x, i) => (i === k ? { ...x, ...change } : x)) }))
              }
            />
          ))}
        </>
      ) : (
        typed && <Said station={station} page={page} typed={typed} targets={form.targets} solve={`${solve} ${feed}`} />
      )}
    </CorrectFrame>
  )
}

/** The page's own, while the station has it. */
const feedOfPage = (station: StationRecord, page: CarryPage): string =>
  station.feeds.some(f => f.id === page.feed.id) ? page.feed.id : feedHere(station)

interface TargetProps {
  page: CarryPage
  typed: TypedTarget
  onChange: (change: Partial<TypedTarget>) => void
}

function TargetFields({ page, typed, onChange }: TargetProps) {
  const title = targetTitle(typed)
  return (
    <section class="correct-part correct-ruled" aria-label={title}>
      <h2 class="correct-head">{title}</h2>
      {needsTime(typed) && typed.utc === '' && (
        <ButtonRow>
          <SecondaryButton onPress={() => onChange({ utc: utcText(takeTrueMs()) })}>{CARRY.readIt}</SecondaryButton>
        </ButtonRow>
      )}
      {needsTime(typed) && typed.utc !== '' && (
        <UtcField
          label={SIGHTING.utc}
          text={typed.utc}
          onText={utc => onChange({ utc })}
          onNow={() => onChange({ utc: utcText(takeTrueMs()) })}
        />
      )}
      {AXES.map(axis => (
        <NumberField
          key={axis}
          label={outputLabel(page, axis)}
          kind={outputKind(page, axis)}
          text={typed[axis]}
          hint={CARRY.digits}
          onText={text => onChange({ [axis]: text })}
        />
      ))}
    </section>
  )
}

interface SaidProps {
  station: StationRecord
  page: CarryPage
  typed: NonNullable<ReturnType<typeof readCheck>>
  targets: readonly TypedTarget[]
  solve: string
}

function Said({ station, page, typed, targets, solve }: SaidProps) {
  const key = `${solve} ${pageKey(page)} ${JSON.stringify(typed.map(({ utc: _, ...t }) => t))}`
  const { told, value, asking } = useAsked(key, () => askCarryCheck(station, feedOfPage(station, page), page, typed))
  if (asking || told === null) return <Sentence>{CARRY.asking}</Sentence>
  if (value === null)
    return <Notice state="stop">{`${CARRY.failed} ${told.kind === 'failed' ? told.message : ''}`}</Notice>
  const said = checkSaid(page, value, isCoarse(typed, page))
  return (
    <>
      <Notice state={said.state} live="status" word={said.head}>
        {said.text.map(text => (
          <p key={text}>{text}</p>
        ))}
      </Notice>
      {said.list.length > 0 && (
        <ul class="carry-list">
          {said.list.map(text => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      {expectedWords(page, value, typed, targets).map(({ title, text }) => (
        <section key={title} class="correct-part correct-ruled" aria-label={title}>
          <h2 class="correct-head">{title}</h2>
          <Text>{text}</Text>
        </section>
      ))}
    </>
  )
}
