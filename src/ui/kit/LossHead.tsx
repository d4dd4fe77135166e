/** The number that matters: what own echoes lose, both ways and one way, against what is allowed. Or that the beam misses. */
import { isBeamOffTarget } from '../../core/dish/optics.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import type { Solution } from '../../core/records/solution.ts'
import { allowedDb, beamwidthDeg } from '../../state/losses.ts'
import { allowedDecibels, NBSP } from './format.ts'
import { LOSS, lossDigits, oneWay } from './loss.ts'
import { BigNumber, Sentence, Text } from './numbers.tsx'

interface Props {
  station: StationRecord
  solution: Solution
}

export function LossHead({ station, solution }: Props) {
  const { sky, feed } = solution
  const allowed = allowedDb(station)
  if (isBeamOffTarget(sky.echoLossP95Db))
    return (
      <>
        <Sentence strong>{LOSS.misses}</Sentence>
        <Text quiet>{LOSS.missesWhy(sky.after.p95Deg, beamwidthDeg(station, feed))}</Text>
      </>
    )
  return (
    <div class="loss">
      <Sentence strong>{LOSS.lead}</Sentence>
      <BigNumber
        value={lossDigits(sky.echoLossP95Db, allowed)}
        unit="dB"
        beside={
          <>
            {LOSS.allowed(allowedDecibels(allowed).replace(`${NBSP}dB`, ''))}
            <br />
            {oneWay(sky.echoLossP95Db)}
          </>
        }
      />
      <p class="loss-meant">{LOSS.meant}</p>
    </div>
  )
}
