/** One place that was compared: theirs, ours, apart; and its readings against ours where it has them. */
import type { ProgramJson } from '../../core/check/programjson.ts'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { degrees } from '../kit/format.ts'
import { numberOf } from '../kit/numberfield.ts'
import { AxisRule, Row, Rows } from '../kit/numbers.tsx'
import { capital, targetWords, whenToSecond } from '../kit/phrases.ts'
import { axisWord, readingKind, readingText } from '../kit/readings.ts'
import { targetOf } from '../kit/sighting/form.ts'
import { PROGRAM_KINDS, sightFormOf, type TypedPlace, typedDecimals } from './form.ts'
import { apartWords, differWords, oursWords, PROGRAM, readingsOurs } from './words.ts'

interface Props {
  station: StationRecord
  row: ProgramJson['rows'][number]
  typed: TypedPlace
  onEdit: () => void
}

export function ComparedPlace({ station, row, typed, onEdit }: Props) {
  const { mount } = station
  const target = targetOf(sightFormOf(typed))
  const title = `${target ? capital(targetWords(target)) : ''}, ${whenToSecond(instantMs(row.utc))}`
  const shown = (text: string, kind: 'az' | 'el') =>
    degrees(numberOf(text, PROGRAM_KINDS[kind]) ?? Number.NaN, typedDecimals(text))
  return (
    <section class="correct-part correct-ruled" aria-label={title}>
      <h2 class="correct-head">{title}</h2>
      <Rows>
        <Row label={PROGRAM.azRow} note={oursWords(degrees(row.azDeg, 2))}>
          {shown(typed.az, 'az')}
        </Row>
        <Row label={PROGRAM.elRow} note={oursWords(degrees(row.elDeg, 2))}>
          {shown(typed.el, 'el')}
        </Row>
        <Row label={PROGRAM.apartRow} note={apartWords(row.echoLossDb)}>
          {degrees(row.apartDeg, 2)}
        </Row>
        {row.differ &&
          row.corrected &&
          AXES.map(axis => (
            <Row
              key={axis}
              label={
                <>
                  {axisWord(mount, axis)}
                  <AxisRule axis={axis} />
                </>
              }
              note={readingsOurs(
                readingText(mount, axis, row.corrected![axis]),
                row.paper && readingText(mount, axis, row.paper[axis]),
                differWords(mount, axis, row.differ![axis]),
              )}
            >
              {readingText(mount, axis, numberOf(typed[axis], readingKind(mount, axis)) ?? Number.NaN)}
            </Row>
          ))}
        {row.corrected === null && typed.lower.trim() !== '' && (
          <Row label={PROGRAM.itsReadings}>{PROGRAM.noReadings}</Row>
        )}
      </Rows>
      <ButtonRow>
        <SecondaryButton onPress={onEdit}>{PROGRAM.edit}</SecondaryButton>
      </ButtonRow>
    </section>
  )
}
