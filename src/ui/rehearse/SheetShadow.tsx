/** The feed's shadow on the face, soft as it is, to be read against lines; one key reads it for the person. */
import { useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { now } from '../../state/now.ts'
import { rehearsal } from '../../state/rehearse.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { DOWN_UP, fixed, LEFT_RIGHT } from '../kit/format.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { Plot } from '../kit/Plot.tsx'
import { Fill } from './Fill.tsx'
import { FACE_SIZE, shadowFace } from './shadowface-geometry.ts'
import { REHEARSE, shadowOffsetWords } from './words.ts'

export function SheetShadow({ station }: { station: StationRecord }) {
  const [isRead, setRead] = useState(false)
  const world = rehearsal.world.value!
  const hands = rehearsal.hands.value!
  const ms = world.trueMs(now.value)
  const shadow = world.shadow(hands, ms)
  if (shadow === null) return <Sentence>{REHEARSE.noShadow}</Sentence>
  const face = shadowFace(shadow, station.dish.diameterM * 1000)
  const read = isRead ? world.shadowRead(hands, ms) : null
  return (
    <div class="sheet-shadow">
      <Plot
        title={REHEARSE.shadowPlot}
        words={read === null ? [] : [shadowOffsetWords(read.rightMm, read.upMm)]}
        width={FACE_SIZE}
        height={FACE_SIZE}
      >
        <circle class="plot-frame plot-paper" cx={FACE_SIZE / 2} cy={FACE_SIZE / 2} r={face.rimR} />
        <path class="sheet-soft" d={face.soft} />
        <path class="sheet-core" d={face.core} />
        {face.lines.map(({ at, mm, isMain }) => (
          <g key={mm}>
            <path class={isMain ? 'plot-thin' : 'plot-fine'} d={`M${at} 0V${FACE_SIZE}M0 ${at}H${FACE_SIZE}`} />
            {isMain && mm !== 0 && at > 24 && at < FACE_SIZE - 24 && (
              <>
                <text class="plot-text plot-small plot-middle" x={at} y={FACE_SIZE / 2 + 14}>
                  {fixed(mm, 0)}
                </text>
                <text class="plot-text plot-small" x={FACE_SIZE / 2 + 4} y={at + 5}>
                  {fixed(-mm, 0)}
                </text>
              </>
            )}
          </g>
        ))}
      </Plot>
      <div>
        <Text quiet>{REHEARSE.shadowSeen(face.lineMm)}</Text>
        {!shadow.isWhole && <Text>{REHEARSE.offDish}</Text>}
        {read === null ? (
          <SecondaryButton onPress={() => setRead(true)}>{REHEARSE.readShadow}</SecondaryButton>
        ) : (
          <Fill
            values={[
              { word: `${LEFT_RIGHT[Number(read.rightMm > 0)]}, mm`, text: fixed(Math.abs(read.rightMm), 0) },
              { word: `${DOWN_UP[Number(read.upMm > 0)]}, mm`, text: fixed(Math.abs(read.upMm), 0) },
            ]}
          />
        )}
      </div>
    </div>
  )
}
