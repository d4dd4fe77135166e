/** The spells of these days as a list, one press from its day. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { Action } from '../kit/buttons.tsx'
import { degrees, fixed, NBSP } from '../kit/format.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { capital, targetWords } from '../kit/phrases.ts'
import { partnerFor, targetHere, useWindows } from './asks.ts'
import type { Span } from './calendar.ts'
import { WhenFrame } from './WhenFrame.tsx'
import { withMonth } from './WhenHome.tsx'
import {
  bothWords,
  hereTimes,
  hoursDigits,
  noneWhy,
  siteWords,
  spanWords,
  spellDay,
  utcDayWords,
  utcTimes,
  WHEN,
} from './words.ts'

export function WhenList({ station, span }: { station: StationRecord; span: Span }) {
  const target = targetHere()
  const { own, both, asking, failed } = useWindows(station, target, span)
  const place = partnerFor(target)
  return (
    <WhenFrame
      station={station}
      title={WHEN.listTitle}
      action={<Action onPress={() => go('when', ...withMonth(span, 'export'))}>{WHEN.export}</Action>}
    >
      {failed !== null && <Notice state="stop">{failed}</Notice>}
      {own === null && asking && <Sentence>{WHEN.computing}</Sentence>}
      {own && own.spells.length === 0 && (
        <>
          <Sentence strong>{WHEN.none(target)}</Sentence>
          <Text>{noneWhy(own, station.mount)}</Text>
        </>
      )}
      {own && own.spells.length > 0 && (
        <>
          <Sentence>
            {capital(targetWords(target))}: {hoursDigits(own.hours)} h {spanWords(span)}
          </Sentence>
          {place && <Text quiet>{WHEN.listBoth(siteWords(place))}</Text>}
          <div>
            {own.spells.map(s => {
              const [from, to] = [instantMs(s.inUtc), instantMs(s.outUtc)]
              return (
                <RowButton
                  key={s.inUtc}
                  label={
                    <>
                      {utcDayWords(from)} {utcTimes(from, to)}
                      <small class="book-small">
                        {[hereTimes(from, to), WHEN.upTo(degrees(s.maxElDeg, 0))].filter(Boolean).join(', ')}
                      </small>
                      {both && <small class="book-small">{bothWords(both.spells, from, to)}</small>}
                    </>
                  }
                  value={`${fixed(s.hours, 1)}${NBSP}h`}
                  onPress={() => go('when', 'day', spellDay(s))}
                />
              )
            })}
          </div>
        </>
      )}
    </WhenFrame>
  )
}
