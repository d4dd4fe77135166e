/** What the fit suspects: in words, with its evidence and what would settle it; each can be recorded or put aside. */
import { chanceOf } from '../../core/chance.ts'
import { dismissalOf, dismissedAt, isDismissed } from '../../core/records/dismissed.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Suspect } from '../../core/records/solution.ts'
import { answer } from '../../state/answer.ts'
import { placesLookedAt } from '../../state/losses.ts'
import { accept, dismiss } from '../../state/suspicions.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CorrectFrame } from '../kit/CorrectFrame.tsx'
import { seenText } from '../kit/format.ts'
import { CAUTIONS } from '../kit/mount/words.ts'
import { go } from '../kit/navigation.ts'
import { Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { SUSPECT_WORDS } from '../kit/suspectwords.ts'
import { CORRECT, evidenceWords, halfWords, OFFER_WORDS, suspectSentence } from './words.ts'

export function CorrectSuspects({ station }: { station: StationRecord }) {
  const suspects = answer.value.solution?.suspects ?? []
  const { used, outliers } = answer.value.solution?.fit ?? { used: 0, outliers: 0 }
  const dismissed = dismissedAt(station)
  const open = suspects.filter(s => !isDismissed(s, dismissed))
  const aside = suspects.filter(s => isDismissed(s, dismissed))
  return (
    <CorrectFrame station={station} title={CORRECT.suspects}>
      {open.length === 0 && (
        <>
          <Sentence strong>
            {outliers > 0 ? CORRECT.butAside(outliers) : used > 0 ? CORRECT.noSuspects : CORRECT.nothingToJudge}
          </Sentence>
          {outliers > 0 && <RowButton label={CORRECT.left} onPress={() => go('correct', 'left')} />}
          <Text quiet>{CORRECT.noSuspectsWhy}</Text>
        </>
      )}
      {open.length > 0 && <Caution {...CAUTIONS.mark} />}
      {open.map(s => (
        <OneSuspect key={dismissalOf(s)} station={station} suspect={s} />
      ))}
      {aside.length > 0 && (
        <section class="correct-part" aria-label={CORRECT.asideByYou}>
          <h2 class="correct-head">{CORRECT.asideByYou}</h2>
          <Text quiet>{CORRECT.comesBack}</Text>
          {aside.map(s => (
            <div class="correct-part correct-ruled" key={dismissalOf(s)}>
              <Text>{suspectSentence(station, s)}</Text>
              <ButtonRow>
                <SecondaryButton onPress={() => void dismiss(station, s, true)}>{CORRECT.again}</SecondaryButton>
              </ButtonRow>
            </div>
          ))}
        </section>
      )}
    </CorrectFrame>
  )
}

function OneSuspect({ station, suspect: s }: { station: StationRecord; suspect: Suspect }) {
  const places = s.kind === 'counter-step' ? placesLookedAt(station) : 1
  return (
    <section class="correct-part correct-ruled" aria-label={SUSPECT_WORDS[s.kind]}>
      <h2 class="correct-head">{SUSPECT_WORDS[s.kind]}</h2>
      <Sentence strong>{suspectSentence(station, s)}</Sentence>
      <Rows>
        <Row label={CORRECT.evidence} note={evidenceWords(s.deltaChi2, chanceOf(s.deltaChi2, places), places)}>
          {''}
        </Row>
        {s.rivals.map(r => (
          <Row key={`${r.kind} ${r.axis ?? ''}`} label={CORRECT.rivals} note={seenText(r.text)}>
            {''}
          </Row>
        ))}
        {s.halves && (
          <Row label={CORRECT.halves} note={s.halves.map(halfWords).join(' ')}>
            {''}
          </Row>
        )}
        <Row label={CORRECT.settles} note={s.settle}>
          {''}
        </Row>
      </Rows>
      <ButtonRow>
        {s.offer && (
          <SecondaryButton onPress={() => void accept(station, s)}>{OFFER_WORDS[s.offer.type]}</SecondaryButton>
        )}
        <SecondaryButton onPress={() => void dismiss(station, s)}>{CORRECT.notSo}</SecondaryButton>
      </ButtonRow>
    </section>
  )
}
