/** The sky over the station, what it reaches and where it was sighted; and how much echoes lose where in the Moon's month. */
import { useMemo } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { allowedDb } from '../../state/losses.ts'
import { bodiesNow, landscape } from '../../state/sky.ts'
import { worth } from '../../state/worth.ts'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Text } from '../kit/numbers.tsx'
import { domeOf, isLossUnknown, minuteOf, skyErrorOf } from './drawings.ts'
import { SkyDomePlot } from './SkyDomePlot.tsx'
import { SkyErrorPlot } from './SkyErrorPlot.tsx'
import { CORRECT } from './words.ts'

export function CorrectSky({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  const land = landscape.value
  const bodies = bodiesNow.value
  const plan = worth.value
  const minute = minuteOf(bodies)
  const dome = useMemo(
    () => (solution && land ? domeOf(station, solution, land, bodies, plan) : null),
    [station, solution, land, minute, plan],
  )
  const error = useMemo(() => (land ? skyErrorOf(land, allowedDb(station)) : null), [land, station])
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.skyTitle}
      side={
        error && (
          <section class="correct-part" aria-label={CORRECT.skyLoss}>
            <h2 class="correct-head">{CORRECT.skyLoss}</h2>
            {solution && isLossUnknown(solution) ? (
              <Text>{CORRECT.skyUnknown}</Text>
            ) : (
              <>
                <SkyErrorPlot error={error} />
                <HelpLine>
                  <p>{CORRECT.skyHelp}</p>
                </HelpLine>
              </>
            )}
          </section>
        )
      }
    >
      {dome ? <SkyDomePlot dome={dome} /> : <Text>{SOLVING.computing}</Text>}
    </CorrectFrame>
  )
}
