/** Cross scans: the list, and which of their screens the address means. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { scanOf, scanRecords, scansOf } from '../../state/scans.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { countOf } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { targetWords, whenToSecond } from '../kit/phrases.ts'
import { UndoStrip } from '../kit/undo.tsx'
import { EqualRun, EqualSee } from './SightCrossEqual.tsx'
import { CrossRun } from './SightCrossRun.tsx'
import { CrossSee } from './SightCrossSee.tsx'
import { CrossStart } from './SightCrossStart.tsx'
import { ScanRows } from './SightDrift.tsx'
import { ScanFrame } from './SightDriftParts.tsx'
import { CROSS, DRIFT, EQUAL } from './words.ts'

export function CrossPlace({ station, what, id = '' }: { station: StationRecord; what?: string; id?: string }) {
  const records = scanRecords(station)
  const scan = scanOf(records, 'cross', id)
  if (what === 'new') return <CrossStart station={station} />
  if ((what === 'run' || what === 'see') && scan !== null)
    return what === 'run' ? (
      scan.how === 'tapped' ? (
        <EqualRun station={station} scan={scan} />
      ) : (
        <CrossRun station={station} scan={scan} />
      )
    ) : scan.how === 'tapped' ? (
      <EqualSee station={station} scan={scan} />
    ) : (
      <CrossSee station={station} scan={scan} />
    )
  const isGone = what === 'run' || what === 'see'
  return (
    <ScanFrame
      station={station}
      title={CROSS.title}
      action={
        isGone ? (
          <Action onPress={() => go('sight', 'cross')}>{CROSS.back}</Action>
        ) : (
          <Action onPress={() => go('sight', 'cross', 'new')}>{CROSS.begin}</Action>
        )
      }
    >
      <Sentence>{isGone ? DRIFT.gone : CROSS.why}</Sentence>
      {!isGone && (
        <ScanRows
          none={CROSS.none}
          list={CROSS.list}
          rows={scansOf(records, 'cross').map(s => ({
            id: s.id,
            head: targetWords(s.target),
            when: whenToSecond(instantMs(s.utc)),
            says: s.how === 'tapped' ? EQUAL.hows.equal.word : countOf(s.samples.length, 'reading'),
          }))}
          onSee={one => go('sight', 'cross', 'see', one)}
        />
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'list')}>{DRIFT.toSight}</SecondaryButton>
      </ButtonRow>
      <UndoStrip of="scan" />
    </ScanFrame>
  )
}
