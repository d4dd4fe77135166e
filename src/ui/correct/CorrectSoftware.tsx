/** For the tracking software: geometry, virtual site, counts tables, slope and offset, each with what it leaves behind. */
import type { ComponentChildren } from 'preact'
import type { Remains } from '../../core/export/software.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { answer } from '../../state/answer.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { software } from '../../state/software.ts'
import { Action } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { CopyText } from '../kit/CopyText.tsx'
import { CorrectFrame, SOLVING } from '../kit/CorrectFrame.tsx'
import { FeedInUse } from '../kit/FeedInUse.tsx'
import { countOf } from '../kit/format.ts'
import { throughFeed } from '../kit/loss.ts'
import { MORE_WAYS } from '../kit/moreways.ts'
import { go } from '../kit/navigation.ts'
import { Row, RowButton, Rows, Sentence, Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { type CopiedLine, copyOf, geometryLines, poleLines, slopeLines, virtualLines } from './software.ts'
import { CORRECT, leavesWords, openToo, RECIPE } from './words.ts'

export function CorrectSoftware({ station }: { station: StationRecord }) {
  const { solution } = answer.value
  // Both of the feed in use, or not yet.
  const chosen = feedHere(station)
  const told = software.value?.feed === chosen && solution?.feed === chosen ? software.value : null
  const { virtualSite, pole } = solution?.controller ?? { virtualSite: null, pole: null }
  const feed = solution && throughFeed(station, solution.feed)
  if (solution !== null && solution.fit.used === 0) {
    return (
      <CorrectFrame
        station={station}
        title={CORRECT.softwareTitle}
        action={<Action onPress={() => go('sight')}>{CORRECT.record}</Action>}
      >
        <Sentence strong>{CORRECT.noSightings}</Sentence>
        <Text>{CORRECT.noSightingsWhy}</Text>
        <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
      </CorrectFrame>
    )
  }
  return (
    <CorrectFrame
      station={station}
      title={CORRECT.softwareTitle}
      side={
        solution &&
        told && (
          <>
            {virtualSite && told.virtualSite && (
              <OneWay
                title={CORRECT.virtual}
                why={CORRECT.virtualWhy}
                lines={virtualLines(station, virtualSite)}
                remains={told.virtualSite}
                station={station}
                feed={feed}
              />
            )}
            {pole && told.pole && (
              <OneWay
                title={CORRECT.pole}
                why={CORRECT.poleWhy}
                lines={poleLines(station, pole)}
                remains={told.pole}
                station={station}
                feed={feed}
              />
            )}
            <OneWay
              title={CORRECT.lines}
              why={CORRECT.linesWhy}
              lines={slopeLines(station, solution.controller.slopeOffset)}
              remains={told.slopeOffset}
              station={station}
              feed={feed}
            />
          </>
        )
      }
    >
      <Text>{CORRECT.softwareLead}</Text>
      <Caution {...CORRECT.firstMove} />
      <FeedInUse station={station} />
      {told && <Text quiet>{openToo(told.whole.echoLossDb)}</Text>}
      <RowButton label={CORRECT.export} onPress={() => go('book', 'export', 'table')} />
      <Text quiet>{CORRECT.whole}</Text>
      <RowButton label={RECIPE.row} onPress={() => go('correct', 'software', 'recipe')} />
      <RowButton label={MORE_WAYS.program} onPress={() => go('correct', 'program')} />
      {solution && told ? (
        <OneWay
          title={CORRECT.geometry}
          why={told.tables.length > 0 ? CORRECT.geometryTables : ''}
          lines={geometryLines(station, solution, told.geometry)}
          remains={told.geometry.remains}
          station={station}
          feed={feed}
        >
          {told.tables.map(t => (
            <RowButton
              key={t.axis}
              label={`${CORRECT.table}: ${axisName(station.mount, t.axis)}`}
              value={countOf(t.rows.length, 'row')}
              onPress={() => go('correct', 'software', t.axis)}
            />
          ))}
        </OneWay>
      ) : (
        solution && <Text>{SOLVING.computing}</Text>
      )}
    </CorrectFrame>
  )
}

interface OneWayProps {
  title: string
  why: string
  lines: readonly CopiedLine[]
  remains: Remains
  station: StationRecord
  /** Which feed it is for, where there are several. */
  feed: string | null
  children?: ComponentChildren
}

function OneWay({ title, why, lines, remains, station, feed, children }: OneWayProps) {
  return (
    <section class="correct-part correct-ruled" aria-label={title}>
      <h2 class="correct-head">{title}</h2>
      {why && <Text quiet>{why}</Text>}
      <Text>{leavesWords(remains.p95Deg, remains.echoLossDb)}</Text>
      <Rows>
        {lines.map(l => (
          <Row key={l.label} label={l.label}>
            {l.value}
          </Row>
        ))}
      </Rows>
      {children}
      <CopyText word={`${CORRECT.copy}: ${title.toLowerCase()}`} text={copyOf(station, title, lines, feed)} />
    </section>
  )
}
