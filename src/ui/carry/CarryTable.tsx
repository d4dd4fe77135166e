/** The rows of a page's table for one axis. */
import type { Axis, StationRecord } from '../../core/records/fieldbook.ts'
import { carryPage } from '../../state/carry.ts'
import { isOnlyEntered, sightedAt } from '../../state/sighted.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CopyText } from '../kit/CopyText.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { fixed } from '../kit/format.ts'
import { go } from '../kit/navigation.ts'
import { AxisRule, Sentence, Text } from '../kit/numbers.tsx'
import { axisName, capital } from '../kit/phrases.ts'
import { CarryNothing } from './CarryNothing.tsx'
import { CARRY, tableText, wishWords } from './words.ts'

/** As it is printed, with a true minus. */
const seen = (x: number): string => fixed(x, (String(x).split('.')[1] ?? '').length)

export function CarryTable({ station, axis }: { station: StationRecord; axis: Axis }) {
  const page = carryPage.value
  const title = `Table: ${axisName(station.mount, axis)}`
  if (isOnlyEntered(sightedAt(station))) return <CarryNothing station={station} title={title} />
  const form = page?.axes[axis].form
  return (
    <CorrectFrame station={station} title={title}>
      {page === null ? (
        <Text>{SOLVING.computing}</Text>
      ) : form?.form !== 'table' ? (
        <Text>{CARRY.noTable}</Text>
      ) : (
        <>
          <Sentence>{wishWords(page.wish)}</Sentence>
          <CopyText
            word={CARRY.copyTable}
            text={tableText(form.rows, page.axes[axis].unit)}
            name={`table-${axis}.txt`}
          />
          <table class="counts">
            <thead>
              <tr>
                <th scope="col">angle</th>
                <th scope="col">
                  {capital(page.axes[axis].unit)}
                  <AxisRule axis={axis} />
                </th>
              </tr>
            </thead>
            <tbody>
              {form.rows.map(([angle, output]) => (
                <tr key={angle}>
                  <th scope="row">{seen(angle)}°</th>
                  <td>{seen(output)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
      <ButtonRow>
        <SecondaryButton onPress={() => go('correct', 'software', 'page')}>{CARRY.toPage}</SecondaryButton>
      </ButtonRow>
    </CorrectFrame>
  )
}
