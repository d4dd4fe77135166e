/** The method, the sides and the shadow of a sighting: a row each on its form, and a screen of their own behind it. */

import { isScanMethod } from '../../core/fit/methods.ts'
import { AXES } from '../../core/mount/names.ts'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { METHOD_WORDS } from '../../core/records/methodwords.ts'
import { methodSigmaDeg, shadowMeaning } from '../../state/sightings.ts'
import { Action } from '../kit/buttons.tsx'
import { decimalsFor, degrees, safeText } from '../kit/format.ts'
import { KINDS } from '../kit/kinds.ts'
import { goBack } from '../kit/navigation.ts'
import { numberOf } from '../kit/numberfield.ts'
import { RowButton, Text } from '../kit/numbers.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { axisName } from '../kit/phrases.ts'
import { type SightForm, shadowOf } from '../kit/sighting/form.ts'
import { FeedField, MethodField, ShadowFields } from '../kit/sighting/MethodFields.tsx'
import { SideFields, SigmaField } from '../kit/sighting/MoreFields.tsx'
import { METHOD_BUTTONS, SIGHTING, shadowSentence } from '../kit/sighting/words.ts'

export const PARTS = ['method', 'sides', 'shadow'] as const
export type SightPart = (typeof PARTS)[number]
/** The part that an address names. */
export const partOf = (word: string | undefined): SightPart | undefined => PARTS.find(part => part === word)

interface PartProps {
  form: SightForm
  set: (change: Partial<SightForm>) => void
  station: StationRecord
}

/** "strongest signal, 23 cm ring, ± 0.5°" */
function methodLine(form: SightForm, station: StationRecord): string {
  const { method } = form
  if (method === null) return SIGHTING.method
  const stated = numberOf(form.sigma, KINDS.sigma)
  const sigma = stated ?? (isScanMethod(method) ? null : methodSigmaDeg(station, method, form.feed ?? undefined))
  const feed =
    method === 'optical' || station.feeds.length < 2 ? undefined : station.feeds.find(f => f.id === form.feed)
  return [
    METHOD_BUTTONS[method] ?? METHOD_WORDS[method],
    feed && safeText(feed.name),
    sigma !== null && `±\u00a0${degrees(sigma, Math.max(1, decimalsFor(sigma, 1)))}`,
  ]
    .filter(Boolean)
    .join(', ')
}

/** "tilt from below, swing from above" */
function sidesLine(form: SightForm, station: StationRecord): string {
  const said = AXES.flatMap(axis => {
    const side = form[`${axis}Side`]
    return side === '' ? [] : [`${axisName(station.mount, axis)} ${SIGHTING.sideShort[side]}`]
  })
  return said.length === 0 ? SIGHTING.sidesNone : `Approached: ${said.join(', ')}`
}

function shadowLine(form: SightForm, station: StationRecord): string | null {
  const shadow = shadowOf(form)
  if (shadow === null) return null
  const { lead, off, tail } = shadowSentence(
    shadowMeaning(station, shadow, numberOf(form.sigma, KINDS.sigma) ?? undefined),
  )
  return lead + off + tail
}

/** The rows on the form. @param onPart  opens the screen of one */
export function PartRows({ form, station, onPart }: Omit<PartProps, 'set'> & { onPart: (part: SightPart) => void }) {
  const needsFeed = form.method !== null && form.method !== 'optical' && station.feeds.length > 1 && form.feed === null
  const shadow = shadowLine(form, station)
  return (
    <div class="pad-rows">
      <RowButton
        label={methodLine(form, station) + (needsFeed ? ', which feed?' : '')}
        value={form.method === null || needsFeed ? SIGHTING.choose : SIGHTING.change}
        onPress={() => onPart('method')}
      />
      {form.method === 'shadow' && (
        <RowButton
          label={shadow ?? SIGHTING.shadowRow}
          value={shadow === null ? SIGHTING.enter : SIGHTING.change}
          onPress={() => onPart('shadow')}
        />
      )}
      <RowButton label={sidesLine(form, station)} value={SIGHTING.change} onPress={() => onPart('sides')} />
    </div>
  )
}

/** The screen of one. What is picked is kept as it is picked. */
export function PartScreen({ part: asked, guessed, ...p }: PartProps & { part: SightPart; guessed: boolean }) {
  const part = asked === 'shadow' && p.form.method !== 'shadow' ? 'method' : asked
  return (
    <PlaceFrame
      present="sight"
      title={{ method: SIGHTING.methodTitle, sides: SIGHTING.sidesTitle, shadow: SIGHTING.shadowTitle }[part]}
      action={<Action onPress={() => goBack('sight')}>{SIGHTING.toForm}</Action>}
    >
      {part === 'method' && (
        <>
          <MethodField {...p} guessed={guessed} />
          <FeedField {...p} />
          <SigmaField {...p} />
        </>
      )}
      {part === 'sides' && (
        <>
          <Text quiet>{SIGHTING.sidesWhy}</Text>
          <SideFields {...p} />
        </>
      )}
      {part === 'shadow' && <ShadowFields {...p} />}
    </PlaceFrame>
  )
}
