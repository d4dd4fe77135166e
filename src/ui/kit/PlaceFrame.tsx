/** The frame of a screen within a place: the time, the five places, the second column and the action where there are any. */
import type { ComponentChildren } from 'preact'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { go, type PlaceId } from './navigation.ts'
import { Screen } from './Screen.tsx'
import { UtcNow } from './UtcNow.tsx'

interface FrameProps {
  title: string
  children: ComponentChildren
  side?: ComponentChildren
  action?: ComponentChildren
}
/** Of the screens that show one station. */
export interface StationFrameProps extends FrameProps {
  station: StationRecord
}

export function PlaceFrame({ present, title, children, side, action }: FrameProps & { present: PlaceId | 'now' }) {
  return (
    <Screen
      title={title}
      utc={<UtcNow />}
      present={present}
      onGo={id => go(id)}
      {...(side !== undefined && { side })}
      {...(action !== undefined && { action })}
    >
      {children}
    </Screen>
  )
}
