/** Polarisation: how far the UP mark is rolled from the vertical, now and over the pass; and how far the other end's vertical is from ours. */
import { useMemo } from 'preact/hooks'
import type { PolarisationRow } from '../../core/plan/polarisationjson.ts'
import type { SpellJson } from '../../core/plan/windowsjson.ts'
import type { StationRecord, TargetRecord } from '../../core/records/fieldbook.ts'
import { instantMs } from '../../core/records/instant.ts'
import { MINUTE_MS } from '../../core/units.ts'
import { ask, trueNow } from '../../state/ask.ts'
import { feedHere } from '../../state/chosenfeed.ts'
import { useAsked, useSolveKey } from '../kit/asked.ts'
import { Action } from '../kit/buttons.tsx'
import { fixed } from '../kit/format.ts'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, RowButton, Sentence, Text } from '../kit/numbers.tsx'
import { Plot } from '../kit/Plot.tsx'
import { driveTo, partnerFor, targetHere, useWindows } from './asks.ts'
import { dayOf, dayOfKey } from './calendar.ts'
import { type RollRow, rollShapes } from './roll-geometry.ts'
import { spellsOn, threeDays } from './WhenDay.tsx'
import { WhenFrame } from './WhenFrame.tsx'
import { offsetWords, POL, passWords, rollSide, siteWords, timesWords, utcDayWords, WHEN } from './words.ts'

/** Rows of a pass: enough for a smooth line. */
const ROWS = 61

export function WhenPolarisation({ station, dayKey }: { station: StationRecord; dayKey: string }) {
  const day = useMemo(() => dayOfKey(dayKey) ?? dayOf(trueNow.peek()), [dayKey])
  const target = targetHere()
  const around = useMemo(() => threeDays(day), [day])
  const { own, asking, failed } = useWindows(station, target, around)
  const nowMs = MINUTE_MS * Math.floor(trueNow.value / MINUTE_MS)
  const spells = own ? spellsOn(own.spells, day) : []
  // The pass that runs now; else the next that begins on that day; on a day that is over, or without one, its first.
  const spell =
    spells.find(s => instantMs(s.inUtc) <= nowMs && instantMs(s.outUtc) > nowMs) ??
    spells.find(s => instantMs(s.inUtc) >= Math.max(day.fromMs, nowMs)) ??
    spells.find(s => instantMs(s.inUtc) >= day.fromMs) ??
    spells[0]
  return (
    <WhenFrame
      station={station}
      title={POL.title}
      action={<Action onPress={() => driveTo(target)}>{WHEN.drive(target)}</Action>}
    >
      {failed !== null && <Notice state="stop">{failed}</Notice>}
      {spell ? (
        <Pass station={station} target={target} spell={spell} nowMs={nowMs} />
      ) : (
        <Sentence>{own === null ? asking && WHEN.computing : POL.none}</Sentence>
      )}
      <Text quiet>{POL.circular}</Text>
      <HelpLine>
        {POL.help.map(text => (
          <p key={text}>{text}</p>
        ))}
      </HelpLine>
    </WhenFrame>
  )
}

interface PassProps {
  station: StationRecord
  target: TargetRecord
  spell: SpellJson
  nowMs: number
}

/** The row that is nearest to an instant. */
const rowNear = (rows: readonly PolarisationRow[], ms: number): PolarisationRow | null =>
  rows.reduce<PolarisationRow | null>(
    (best, r) => (best === null || Math.abs(instantMs(r.utc) - ms) < Math.abs(instantMs(best.utc) - ms) ? r : best),
    null,
  )

function Pass({ station, target, spell, nowMs }: PassProps) {
  const [fromMs, toMs] = [instantMs(spell.inUtc), instantMs(spell.outUtc)]
  const place = partnerFor(target)
  const about = {
    feed: feedHere(station),
    target,
    fromUtc: spell.inUtc,
    stepS: (toMs - fromMs) / 1000 / (ROWS - 1),
    count: ROWS,
    ...(place && { partner: place }),
  }
  const key = JSON.stringify([useSolveKey(station), about])
  const { value, told, asking } = useAsked(key, () => ask(station, 'polarisation', about))
  if (value === null)
    return told?.kind === 'failed' ? (
      <Notice state="stop">{told.message}</Notice>
    ) : (
      <Sentence>{asking && WHEN.computing}</Sentence>
    )
  const isNow = nowMs >= fromMs && nowMs <= toMs
  const at = rowNear(value, isNow ? nowMs : fromMs)
  return (
    <>
      {at?.rollDeg != null ? (
        <BigNumber
          label={isNow ? POL.now : POL.atStart}
          value={fixed(Math.abs(at.rollDeg), 0)}
          unit="°"
          size={2}
          beside={rollSide(at.rollDeg)}
        />
      ) : (
        <Sentence>{POL.noPose}</Sentence>
      )}
      <Text>
        {utcDayWords(fromMs)}: {timesWords(fromMs, toMs)}. {POL.lead}
      </Text>
      <RollPlot rows={value} nowMs={nowMs} />
      {place && at?.partner ? (
        <>
          <Sentence>{at.partner.isUp ? offsetWords(at.partner) : POL.partnerDown}</Sentence>
          <RowButton label={POL.byPartner} value={siteWords(place)} onPress={() => go('when', 'partner')} />
        </>
      ) : (
        place === null &&
        target.type !== 'landmark' && <RowButton label={POL.setPartner} onPress={() => go('when', 'partner')} />
      )}
    </>
  )
}

function RollPlot({ rows, nowMs }: { rows: readonly PolarisationRow[]; nowMs: number }) {
  const s = useMemo(() => {
    const drawn = rows.map(
      (r): RollRow => ({
        ms: instantMs(r.utc),
        rollDeg: r.rollDeg,
        offsetDeg: r.partner?.isUp ? Math.abs(r.partner.offsetDeg) : null,
      }),
    )
    return rollShapes(drawn, nowMs)
  }, [rows, nowMs])
  const { frame } = s
  return (
    <Plot title={POL.plot} words={passWords(rows)} width={s.width} height={s.height} showWords>
      <rect class="plot-frame" x={frame.x} y={frame.y} width={frame.width} height={frame.height} />
      {s.lines.map(line => (
        <path
          key={line.label}
          class={line.isZero ? 'plot-fine' : 'plot-ring'}
          d={`M${frame.x} ${line.y}h${frame.width}`}
        />
      ))}
      {s.now !== null && <path class="when-now" d={`M${s.now} ${frame.y}v${frame.height}`} />}
      <path class="plot-heavy" d={s.roll} />
      <path class="plot-thin" d={s.offset} />
      {s.lines.map(line => (
        <text key={line.label} class="plot-text plot-small plot-end" x={frame.x - 6} y={line.y + 5}>
          {line.label}
        </text>
      ))}
      {s.labels.map(l => (
        <text key={l.word} class="plot-text plot-small" x={l.x} y={l.y}>
          {l.word}
        </text>
      ))}
      {s.feet.map(foot => (
        <text key={foot.anchor} class="plot-text plot-small" text-anchor={foot.anchor} x={foot.x} y={s.height - 8}>
          {foot.label}
        </text>
      ))}
    </Plot>
  )
}
