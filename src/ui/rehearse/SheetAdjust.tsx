/** Adjusters to turn: those that the person has described, and the lower axis by degrees. The dish itself is altered from then on. */
import { useState } from 'preact/hooks'
import { lowerAxisIds } from '../../core/mount/slots.ts'
import type { AdjusterRecord } from '../../core/records/adjusters.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { TYPED } from '../../core/records/ranges.ts'
import { adjustersHere, amountUnit } from '../../core/rehearse/adjusting.ts'
import { MM_PER_INCH } from '../../core/units.ts'
import { adjustersOf } from '../../state/bolts.ts'
import { clockMs } from '../../state/now.ts'
import { rehearsal, turnAdjuster } from '../../state/rehearse.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { lengthUnit, safeText } from '../kit/format.ts'
import { lengthKind, type NumberKind, numberOf } from '../kit/numberfield.ts'
import { Name, Text } from '../kit/numbers.tsx'
import { otherWay } from '../kit/otherway.ts'
import { subjectWords } from '../kit/parameterwords.ts'
import { REHEARSE } from './words.ts'

interface Set {
  key: string
  adjuster: AdjusterRecord | null
  id: string
}

/** Five minutes: what turning an adjuster takes at a real dish. */
const WORK_S = 300

/** The field, and how many millimetres, turns or degrees one of its unit is. */
function amountKind(adjuster: AdjusterRecord | null): { kind: NumberKind; each: number } {
  switch (amountUnit(adjuster)) {
    case 'deg':
      return { kind: { form: 'angle', min: 0, max: 30 }, each: 1 }
    case 'turns':
      return { kind: { form: 'number', unit: REHEARSE.turns, min: 0, max: 200 }, each: 1 }
    case 'mm':
      return {
        kind: lengthKind(lengthUnit(), [0, TYPED.shiftMm[1]]),
        each: lengthUnit() === 'in' ? MM_PER_INCH : 1,
      }
  }
}

export function SheetAdjust({ station }: { station: StationRecord }) {
  const [key, setKey] = useState<string | null>(null)
  const [text, setText] = useState('')
  const [done, setDone] = useState<boolean | null>(null)
  const { mount, site } = station
  const { paper } = rehearsal.world.value!
  const all: Set[] = [
    ...adjustersHere(paper, adjustersOf(station)).map(a => ({ key: `own ${a.id}`, adjuster: a, id: a.turns })),
    ...lowerAxisIds(paper.mount.kind).map(id => ({ key: id, adjuster: null, id })),
  ]
  const words = (id: string) => subjectWords(id, mount, site.latDeg, null)
  const picked = all.find(s => s.key === key) ?? all[0]!
  const { kind, each } = amountKind(picked.adjuster)
  const amount = numberOf(text, kind)
  const [minus, plus] = words(picked.id).senses
  const named = picked.adjuster?.plus
  const ways = named === undefined ? [minus, plus] : [otherWay(named), safeText(named)]
  const turn = async (way: -1 | 1) => {
    if (amount === null) return
    rehearsal.spend(WORK_S)
    const of = { adjuster: picked.adjuster, id: picked.id, amount: way * amount * each }
    setDone(await turnAdjuster(station, of, clockMs()))
  }
  return (
    <>
      <Choice
        label={REHEARSE.adjust}
        long
        options={all.map(s => ({
          value: s.key,
          word: s.adjuster ? <Name>{s.adjuster.name}</Name> : words(s.id).what,
          note: s.adjuster ? words(s.id).what : REHEARSE.byDegrees,
        }))}
        value={picked.key}
        onPick={next => {
          setKey(next)
          setText('')
          setDone(null)
        }}
      />
      <NumberField label={REHEARSE.amount} kind={kind} text={text} onText={setText} hint=" " signButton={false} />
      {amount !== null && (
        <div class="seconds">
          <SecondaryButton onPress={() => void turn(-1)}>{ways[0]}</SecondaryButton>
          <SecondaryButton onPress={() => void turn(1)}>{ways[1]}</SecondaryButton>
        </div>
      )}
      {done !== null && <Text>{done ? REHEARSE.adjusted : REHEARSE.notAdjusted}</Text>}
    </>
  )
}
