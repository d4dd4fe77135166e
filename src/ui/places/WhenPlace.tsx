/** "When", under Now: which of its screens the address means. */
import { useMemo } from 'preact/hooks'
import { trueNow } from '../../state/ask.ts'
import { fieldBook } from '../../state/book.ts'
import { midnightOf } from '../../state/coming.ts'
import { Action } from '../kit/buttons.tsx'
import { LookAround } from '../kit/LookAround.tsx'
import { go } from '../kit/navigation.ts'
import { Sentence } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { WAYS } from '../kit/ways.ts'
import { comingSpan, monthOfKey, monthSpan } from '../when/calendar.ts'
import { WhenDay } from '../when/WhenDay.tsx'
import { WhenExport } from '../when/WhenExport.tsx'
import { WhenHome } from '../when/WhenHome.tsx'
import { WhenList } from '../when/WhenList.tsx'
import { WhenPartner } from '../when/WhenPartner.tsx'
import { WhenPolarisation } from '../when/WhenPolarisation.tsx'
import { WHEN } from '../when/words.ts'
import '../when/when.css'

export function WhenPlace({ parts }: { parts: readonly string[] }) {
  const station = fieldBook.station.value
  const [what, which = ''] = parts
  // The month is the last part of an address; none: from today on.
  const monthText = monthOfKey(parts.at(-1) ?? '') ? parts.at(-1)! : ''
  const todayMs = midnightOf(trueNow.value)
  const span = useMemo(() => {
    const month = monthOfKey(monthText)
    return month ? monthSpan(month) : comingSpan(todayMs)
  }, [monthText, todayMs])
  if (station === null) {
    return (
      <PlaceFrame
        present="now"
        title={WHEN.title}
        action={<Action onPress={() => go('book', 'new')}>{WAYS.setUp}</Action>}
      >
        <Sentence>{WHEN.noStation}</Sentence>
        <LookAround />
      </PlaceFrame>
    )
  }
  switch (what) {
    case 'day':
      return <WhenDay station={station} dayKey={which} />
    case 'polarisation':
      return <WhenPolarisation station={station} dayKey={which} />
    case 'partner':
      return <WhenPartner station={station} />
    case 'list':
      return <WhenList station={station} span={span} />
    case 'export':
      return <WhenExport station={station} span={span} />
    default:
      return <WhenHome station={station} span={span} />
  }
}
