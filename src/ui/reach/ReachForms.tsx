/** The forms of "Will it reach?": the place, the skyline, and a mount with its limits. */
import { AXES } from '../../core/mount/names.ts'
import type { MountKind, MountRecord } from '../../core/records/fieldbook.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { NumberField } from '../kit/fields.tsx'
import { degrees } from '../kit/format.ts'
import { KindDrawing } from '../kit/KindDrawing.tsx'
import { HEADING_OF, ZERO_OF } from '../kit/mountwords.ts'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { PlaceFields, placeOfTexts } from '../kit/PlaceFinder.tsx'
import { PlaceFrame } from '../kit/PlaceFrame.tsx'
import { axisName, capital, MOUNT_WORDS, WINDS } from '../kit/phrases.ts'
import { hasHeading, hasOffset, REACH_KINDS, readReach, turnedOver, withKind } from './form.ts'
import { useReachForm, yearNow } from './kept.ts'
import type { ReachForm, Variant, Which } from './typed.ts'
import { FAULT, FORM, REACH } from './words.ts'

const KINDS = Object.keys(MOUNT_WORDS) as MountKind[]

/** What is missing here, and the way on. */
function Done({ form, part }: { form: ReachForm; part: 'place' | 'sky' | Which }) {
  const read = readReach(form, part === 'b' ? 'b' : 'a', yearNow())
  const here = !read.ok && read.part === part ? read.why : null
  // After the place comes the mount, where there is none yet.
  const next = part === 'place' && !read.ok && read.part === 'a' ? 'a' : null
  return (
    <Action notNow={here} onPress={() => (next ? go('reach', next) : go('reach'))}>
      {next ? REACH.next[next] : REACH.back}
    </Action>
  )
}

export function ReachPlaceForm() {
  const [form, setForm] = useReachForm()
  return (
    <PlaceFrame present="now" title={FORM.placeTitle} action={<Done form={form} part="place" />}>
      <PlaceFields byPhone texts={form} onTexts={({ lat, lon }) => setForm({ ...form, lat, lon })} />
    </PlaceFrame>
  )
}

export function ReachSkyForm() {
  const [form, setForm] = useReachForm()
  return (
    <PlaceFrame present="now" title={FORM.skyTitle} action={<Done form={form} part="sky" />}>
      <NumberField
        label={FORM.minEl}
        kind={REACH_KINDS.minEl}
        text={form.minEl}
        hint={FORM.minElHint}
        onText={minEl => setForm({ ...form, minEl })}
      />
      <Text>{FORM.skyline}</Text>
      <div class="reach-fields">
        {WINDS.map((wind, k) => (
          <NumberField
            key={wind}
            label={capital(wind)}
            kind={REACH_KINDS.skyline}
            text={form.skyline[k] ?? ''}
            hint=""
            onText={text => setForm({ ...form, skyline: form.skyline.map((t, i) => (i === k ? text : t)) })}
          />
        ))}
      </div>
    </PlaceFrame>
  )
}

export function ReachMountForm({ which }: { which: Which }) {
  const [form, setForm] = useReachForm()
  const v = form[which]
  const set = (next: Variant) => setForm({ ...form, [which]: next, ...(which === 'b' && { hasB: true }) })
  const latDeg = placeOfTexts(form)?.latDeg ?? null
  return (
    <PlaceFrame present="now" title={FORM.mountTitle(which)} action={<Done form={form} part={which} />}>
      {which === 'b' && form.a.kind !== '' && v.kind !== '' && (
        <ButtonRow>
          <SecondaryButton onPress={() => set(turnedOver(v))}>{FORM.turnOver}</SecondaryButton>
          <SecondaryButton onPress={() => set(form.a)}>{FORM.sameAsA}</SecondaryButton>
        </ButtonRow>
      )}
      <div class="kind-choice">
        <Choice
          label={FORM.kind}
          value={v.kind === '' ? null : v.kind}
          options={KINDS.map(kind => ({
            value: kind,
            word: (
              <>
                <KindDrawing kind={kind} latDeg={latDeg ?? 45} />
                {MOUNT_WORDS[kind]}
              </>
            ),
          }))}
          onPick={kind => set(withKind(v, kind, latDeg))}
        />
      </div>
      {v.kind === '' ? <Text>{FAULT.kind}</Text> : <Limits v={v} kind={v.kind} latDeg={latDeg} set={set} />}
    </PlaceFrame>
  )
}

interface LimitsProps {
  v: Variant
  kind: MountKind
  latDeg: number | null
  set: (next: Variant) => void
}

function Limits({ v, kind, latDeg, set }: LimitsProps) {
  const name = (axis: 'lower' | 'upper') => axisName({ kind } as MountRecord, axis)
  return (
    <>
      <Text quiet>{FORM.usual}</Text>
      {kind === 'ha-dec' && latDeg !== null && <Text>{FORM.pole(degrees(Math.abs(latDeg), 1))}</Text>}
      {AXES.map(axis => (
        <section key={axis} class="book-section" aria-label={name(axis)}>
          <Text quiet>{ZERO_OF[kind][axis]}</Text>
          <div class="reach-fields">
            {(['Min', 'Max'] as const).map(end => (
              <NumberField
                key={end}
                label={end === 'Min' ? FORM.lowest(name(axis)) : FORM.highest(name(axis))}
                kind={REACH_KINDS.limit}
                text={v[`${axis}${end}`]}
                hint=""
                signButton={false}
                keyboard="text"
                onText={text => set({ ...v, [`${axis}${end}`]: text })}
              />
            ))}
          </div>
        </section>
      ))}
      {hasHeading(kind) && (
        <NumberField
          label={FORM.heading}
          kind={REACH_KINDS.heading}
          text={v.heading}
          hint={`${HEADING_OF[kind]} ${FORM.headingHint}`}
          onText={heading => set({ ...v, heading })}
        />
      )}
      {hasOffset(kind) && (
        <NumberField
          label={FORM.offset}
          kind={REACH_KINDS.offset}
          text={v.offset}
          hint={FORM.offsetHint}
          onText={offset => set({ ...v, offset })}
        />
      )}
    </>
  )
}
