/** What is left at each sighting: the drawing, what was set aside and how far off it is, and the way to decide otherwise. */
import { useMemo, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { beamwidthDeg } from '../../state/losses.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Text } from '../kit/numbers.tsx'
import { type JudgedSighting, judgedSightings, residualsOf } from './drawings.ts'
import { ResidualsPlot } from './ResidualsPlot.tsx'
import { CORRECT, offInSigmasWords, sightingHow, sightingWords, USE_WORDS } from './words.ts'

export function CorrectLeft({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const [picked, setPicked] = useState<string | null>(null)
  const judged = useMemo(() => (solution ? judgedSightings(station, solution) : []), [station, solution])
  const residuals = useMemo(
    () =>
      residualsOf(judged, solution?.sky.toleranceDeg ?? 1, beamwidthDeg(station, solution?.feed ?? feedHere(station))),
    [judged, solution, station],
  )
  const chosen = judged.find(j => j.record.id === picked)
  const aside = judged.filter(j => j.solved.status === 'outlier')
  const byHand = judged.filter(j => (j.record.use ?? 'auto') !== 'auto')
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.leftTitle}
      side={
        <>
          <section class="correct-part" aria-label={CORRECT.asideTitle}>
            <h2 class="correct-head">{CORRECT.asideTitle}</h2>
            <Text quiet>
              {aside.length > 0
                ? CORRECT.asideWhy
                : (solution?.fit.used ?? 0) < 4
                  ? CORRECT.fewSightings
                  : CORRECT.noneAside}
            </Text>
            <Listed of={aside} more={CORRECT.moreAside} />
          </section>
          {byHand.length > 0 && (
            <section class="correct-part" aria-label={CORRECT.byHand}>
              <h2 class="correct-head">{CORRECT.byHand}</h2>
              <Listed of={byHand} more={CORRECT.moreByHand} decided />
            </section>
          )}
          <RowButton label={CORRECT.all} value={`${judged.length}`} onPress={() => go('sight', 'list')} />
        </>
      }
    >
      {judged.length > 0 ? <ResidualsPlot residuals={residuals} onPick={setPicked} /> : <Text>{CORRECT.noneYet}</Text>}
      {chosen && (
        <ButtonRow>
          <SecondaryButton onPress={() => go('sight', 'see', chosen.record.id)}>{CORRECT.see}</SecondaryButton>
          <SecondaryButton onPress={() => go('correct', 'left', chosen.record.id)}>{CORRECT.decide}</SecondaryButton>
        </ButtonRow>
      )}
      <HelpLine>
        <p>{CORRECT.leftHelp}</p>
      </HelpLine>
    </CorrectFrame>
  )
}

/** So many are listed at once; how many more there are stands below. */
const FIRST = 8

interface ListedProps {
  of: readonly JudgedSighting[]
  more: (n: number) => string
  decided?: boolean
}

function Listed({ of, more, decided = false }: ListedProps) {
  const rows = (some: readonly JudgedSighting[]) => (
    <div>
      {some.map(j => (
        <OneSighting key={j.record.id} judged={j} decided={decided} />
      ))}
    </div>
  )
  return (
    <>
      {rows(of.slice(0, FIRST))}
      {of.length > FIRST && <HelpLine word={more(of.length - FIRST)}>{rows(of.slice(FIRST))}</HelpLine>}
    </>
  )
}

function OneSighting({ judged, decided }: { judged: JudgedSighting; decided: boolean }) {
  const { record, solved, offDeg } = judged
  return (
    <RowButton
      label={
        <>
          {sightingWords(record)}
          <br />
          <small>
            {sightingHow(record)}; {offInSigmasWords(offDeg, solved.sigmaDeg)}.{!decided && ` ${CORRECT.decide}`}
          </small>
        </>
      }
      {...(decided && { value: USE_WORDS[record.use ?? 'auto'].word })}
      onPress={() => go('correct', 'left', record.id)}
    />
  )
}
