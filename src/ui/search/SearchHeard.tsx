/** The Sun was heard: the sighting is kept with the uncertainty that a step leaves; now it is to be peaked on. */

import type { SightingRecord } from '../../core/records/fieldbook.ts'
import { chooseTarget } from '../../state/pointing.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { degrees } from '../kit/format.ts'
import { MORE_WAYS } from '../kit/moreways.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { AxisPair, Sentence, Text } from '../kit/numbers.tsx'
import { dialled } from '../kit/phrases.ts'
import { readingLabel } from '../kit/readings.ts'
import { SunFrame } from '../kit/shadow/parts.tsx'
import { UndoStrip } from '../kit/undo.tsx'
import { emptySearch, type SearchProps } from './form.ts'
import { SearchCaution } from './SearchCaution.tsx'
import { SEARCH } from './words.ts'

export function SearchHeard({ station, form, set, sighting }: SearchProps & { sighting: SightingRecord }) {
  const { mount } = station
  const shown = (axis: 'lower' | 'upper') => ({
    label: readingLabel(mount, axis),
    value: dialled(mount, axis, sighting[axis]).value,
  })
  const peak = () => {
    chooseTarget({ type: 'sun' })
    set({ ...emptySearch(), seconds: form.seconds })
    go('sight')
  }
  return (
    <SunFrame
      station={station}
      title={MORE_WAYS.search}
      action={<Action onPress={peak}>{SEARCH.peak}</Action>}
      side={<UndoStrip of="sight" />}
    >
      <Notice state="good" word={SEARCH.kept} live="status">
        {SEARCH.keptWhy(degrees(sighting.sigmaDeg ?? 0, 1))}
      </Notice>
      <AxisPair size={3} lower={shown('lower')} upper={shown('upper')} />
      <Sentence strong>{SEARCH.keptNow}</Sentence>
      <Text quiet>{SEARCH.readings}</Text>
      <ButtonRow>
        <SecondaryButton onPress={() => go('sight', 'see', sighting.id)}>{SEARCH.see}</SecondaryButton>
        <SecondaryButton onPress={() => set({ ...emptySearch(), seconds: form.seconds })}>
          {SEARCH.again}
        </SecondaryButton>
      </ButtonRow>
      <SearchCaution station={station} />
    </SunFrame>
  )
}
