/** The counts-to-angle table of one axis as built. */
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { software } from '../../state/software.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CopyText } from '../kit/CopyText.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { fixed, NONE } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { AxisRule, Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { tableText } from './software.ts'
import { CORRECT, tableLead } from './words.ts'

export function CorrectTable({ station, axis }: { station: StationRecord; axis: Axis }) {
  const told = software.value
  const table = told?.tables.find(t => t.axis === axis)
  const title = `${CORRECT.table}: ${axisName(station.mount, axis)}`
  return (
    <CorrectFrame station={station} title={title}>
      {told === null ? (
        <Text>{SOLVING.computing}</Text>
      ) : table === undefined ? (
        <Text>{CORRECT.noTable}</Text>
      ) : (
        <>
          <Text>{tableLead(table.rows.length, table.betweenDeg, table.line.worstDeg)}</Text>
          <CopyText word={`${CORRECT.copy} the table`} text={tableText(table)} />
          <table class="counts">
            <thead>
              <tr>
                <th scope="col">counts</th>
                <th scope="col">
                  as built
                  <AxisRule axis={axis} />
                </th>
                <th scope="col">as entered</th>
                <th scope="col">±</th>
              </tr>
            </thead>
            <tbody>
              {table.rows.map(r => (
                <tr key={r.reading}>
                  <th scope="row">{fixed(r.reading, Number.isInteger(r.reading) ? 0 : 1)}</th>
                  <td>{fixed(r.angleDeg, 2)}°</td>
                  <td>{r.paperDeg === null ? NONE : `${fixed(r.paperDeg, 2)}°`}</td>
                  <td>{fixed(r.sigmaDeg, 1)}°</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('correct', 'software')}>{CORRECT.software}</SecondaryButton>
      </ButtonRow>
    </CorrectFrame>
  )
}
