/** A file ready for export: the ways it can go, its name, what came of it. The text is made before the tap. */
import type { ComponentChildren } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { trueNowMs } from '../../state/ask.ts'
import { bestWay, type HandedOn, handOn, type MadeText, type Parcel } from '../../state/export.ts'
import { AsCodes } from './AsCodes.tsx'
import { HandedWords } from './BackupBox.tsx'
import { HAND_ON } from './backupwords.ts'
import { Action, ButtonRow, SecondaryButton } from './buttons.tsx'
import { Notice } from './Notice.tsx'
import { Name, Row, Rows } from './numbers.tsx'
import { TheText } from './TheText.tsx'

type HandingWay = ReturnType<typeof bestWay>
const HANDING_WAYS = ['share', 'download', 'copy'] as const satisfies readonly HandingWay[]

export interface Outgoing {
  parcel: Parcel | null
  said: HandedOn | null
  hand(way: HandingWay): Promise<void>
}

interface MadeOf {
  key: string
  station: StationRecord
  ms: number
  made: NonNullable<MadeText>
}

/**
 * A file's text, made before the tap, and again for another key or when something of the station changes; null while it is on its way.
 * @param key  all that the file depends on besides the station
 */
export function useMade(
  station: StationRecord,
  key: string,
  make: (nowMs: number) => Promise<MadeText>,
): Pick<MadeOf, 'made' | 'ms'> | null {
  const [ready, setReady] = useState<MadeOf | null>(null)
  useEffect(() => {
    let alive = true
    const ms = trueNowMs(station)
    void make(ms).then(made => {
      if (alive && made !== null) setReady({ key, station, ms, made })
    })
    return () => {
      alive = false
    }
  }, [station, key])
  return ready?.key === key && ready.station === station ? ready : null
}

/** @param about  what is chosen for export: messages about another choice are cleared */
export function useOutgoing(parcel: Parcel | null, about: string): Outgoing {
  const [said, setSaid] = useState<HandedOn | null>(null)
  useEffect(() => setSaid(null), [about])
  return {
    parcel,
    said,
    async hand(way) {
      if (parcel) setSaid(await handOn(way, parcel))
    },
  }
}

/** The best way of export. @param why  why there is nothing to export yet */
export function OutgoingAction({ out: { parcel, hand }, why }: { out: Outgoing; why: string }) {
  const best = parcel ? bestWay(parcel) : 'copy'
  return (
    <Action notNow={parcel ? null : why} onPress={() => void hand(best)}>
      {HAND_ON[best]}
    </Action>
  )
}

/** The file, the other ways, what came of it. @param p.more  in addition; @param p.children  between it and the text */
export function OutgoingParts({
  out: { parcel, said, hand },
  all = false,
  more,
  children,
}: {
  out: Outgoing
  /** The best way too, where it is not the action of the screen. */
  all?: boolean
  more?: ComponentChildren
  children?: ComponentChildren
}) {
  if (parcel === null) return null
  const best = bestWay(parcel)
  const outcome = said?.outcome
  return (
    <>
      <Rows>
        <Row label={<Name>{parcel.file.name}</Name>}>{HAND_ON.size(parcel.file.size)}</Row>
      </Rows>
      <ButtonRow>
        {HANDING_WAYS.filter(way => (all || way !== best) && (way === 'copy' || parcel[way])).map(way => (
          <SecondaryButton key={way} onPress={() => void hand(way)}>
            {HAND_ON[way]}
          </SecondaryButton>
        ))}
        <AsCodes name={parcel.file.name} text={parcel.text} />
      </ButtonRow>
      {said && outcome && (
        <Notice state={outcome === 'refused' ? 'stop' : outcome === 'cancelled' ? 'look-out' : 'good'} live="status">
          <HandedWords said={said} />
          {more}
        </Notice>
      )}
      {children}
      <TheText text={parcel.text} />
    </>
  )
}
