/** The positions of a sweep: those taken, and the next one, by this phone or typed. */
import type { ComponentChildren } from 'preact'
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { phoneLevel, readySigns, signTaken } from '../../state/level.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { fixed } from '../kit/format.ts'
import { KINDS } from '../kit/kinds.ts'
import { Notice } from '../kit/Notice.tsx'
import { numberOf } from '../kit/numberfield.ts'
import { Text } from '../kit/numbers.tsx'
import { axisName } from '../kit/phrases.ts'
import { readingKind, readingWords } from '../kit/readings.ts'
import { attitudeWords } from '../kit/sensorwords.ts'
import { type SwingForm, type SwingNext, tiltsOf, upFromTilts, withoutPlace, withPlace } from './form.ts'
import { SWING } from './words.ts'

interface PlacesProps {
  station: StationRecord
  form: SwingForm
  onForm: (next: (now: SwingForm) => SwingForm) => void
}

export function Positions({ station, form, onForm }: PlacesProps) {
  if (form.clampings.flat().length === 0) return null
  return (
    <section class="level-list" aria-label={SWING.positions}>
      <h2>{SWING.positions}</h2>
      {form.clampings.map((list, c) => (
        <div key={c}>
          {form.clampings.length > 1 && list.length > 0 && <h3>{SWING.clamping(c + 1)}</h3>}
          {list.map((place, k) => {
            const t = tiltsOf(place.up)
            return (
              <div key={k} class="list-entry">
                <span>
                  {k + 1}: <strong>{readingWords(station.mount, form.axis, place.reading)}</strong>
                  <small>
                    long edge {fixed(t.topDeg, 1)}°, short edge {fixed(t.rightDeg, 1)}°, screen {t.face}
                  </small>
                </span>
                <SecondaryButton onPress={() => onForm(now => withoutPlace(now, c, k))}>
                  {SWING.remove(k + 1)}
                </SecondaryButton>
              </div>
            )
          })}
        </div>
      ))}
    </section>
  )
}

export function NextPosition(p: Omit<PlacesProps, 'onForm'> & { set: (change: Partial<SwingForm>) => void }) {
  const { station, form, set } = p
  const { next } = form
  const put = (change: Partial<SwingNext>) => set({ next: { ...next, ...change } })
  const typedUp = upFromTilts(next)
  return (
    <section class="level-around" aria-label={SWING.next(form.clampings.at(-1)!.length + 1)}>
      <h2>{SWING.next(form.clampings.at(-1)!.length + 1)}</h2>
      <NumberField
        label={SWING.reads(axisName(station.mount, form.axis))}
        kind={readingKind(station.mount, form.axis)}
        text={next.reading}
        signButton
        onText={reading => put({ reading })}
      />
      {station.rehearsal !== true && (
        <Choice
          label={SWING.by}
          value={form.by}
          options={[
            { value: 'phone', word: SWING.byPhone },
            { value: 'hand', word: SWING.byHand, note: SWING.byHandNote },
          ]}
          onPick={by => set({ by })}
        />
      )}
      {form.by === 'phone' ? (
        <ByPhone />
      ) : (
        <>
          <NumberField label={SWING.top} kind={KINDS.tilt} text={next.top} onText={top => put({ top })} />
          <NumberField label={SWING.right} kind={KINDS.tilt} text={next.right} onText={right => put({ right })} />
          <Choice
            label={SWING.face}
            value={next.face}
            options={[
              { value: 'up', word: SWING.faceUp },
              { value: 'down', word: SWING.faceDown },
            ]}
            onPick={face => put({ face })}
          />
          {typedUp.kind === 'impossible' && <Notice state="look-out">{SWING.impossible}</Notice>}
        </>
      )}
    </section>
  )
}

/** What this phone shows now. */
function ByPhone() {
  const live = phoneLevel.live.value
  if (live === null) return <Text>{SWING.starting}</Text>
  const { state, up } = live.attitude
  const why = attitudeWords(state)
  if (state === 'not-asked')
    return (
      <>
        {why && <Text>{why.text}</Text>}
        <SecondaryButton
          onPress={() => {
            readySigns()
            void phoneLevel.ask()
          }}
        >
          {SWING.startSensors}
        </SecondaryButton>
      </>
    )
  if (up === null) return <Notice state={why?.stop ? 'stop' : 'look-out'}>{why?.text ?? SWING.noPhone}</Notice>
  const t = tiltsOf([up[0], up[1], up[2]])
  return (
    <Text>
      Long edge <strong>{fixed(t.topDeg, 1)}°</strong>, short edge <strong>{fixed(t.rightDeg, 1)}°</strong>
      {live.reading === null ? SWING.notAtRest : SWING.atRest}
    </Text>
  )
}

/** What the action of the screen does: takes the position that is typed, once there is one; else keeps the elevation. */
export function SwingAction(p: PlacesProps & { keep: ComponentChildren }) {
  const { station, form, onForm } = p
  const live = form.by === 'phone' ? phoneLevel.live.value : null
  const isTyped = numberOf(form.next.reading, readingKind(station.mount, form.axis)) !== null
  if (!isTyped || (form.by === 'phone' && live?.attitude.up == null)) return <>{p.keep}</>
  const taken = live?.reading ?? null
  const can = withPlace(form, station, taken) !== null
  const take = () => {
    onForm(now => withPlace(now, station, taken) ?? now)
    if (form.by === 'hand') return
    signTaken()
    phoneLevel.anew()
  }
  return form.by === 'phone' ? (
    <Action notNow={can ? null : SWING.wait} onPress={take}>
      {SWING.take}
    </Action>
  ) : (
    <Action notNow={can ? null : SWING.bothEdges} onPress={take}>
      {SWING.add}
    </Action>
  )
}
