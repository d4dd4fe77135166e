/** The other end of a contact: one place, by locator or by its coordinates. */
import type { StationRecord } from '../../core/records/fieldbook.ts'
import { choosePartner, partner } from '../../state/partner.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { forget, useKept } from '../kit/keptany.ts'
import { goBack } from '../kit/navigation.ts'
import { Sentence, Text } from '../kit/numbers.tsx'
import { PlaceFields, type PlaceTexts, placeOfTexts, writtenPlace } from '../kit/PlaceFinder.tsx'
import { WhenFrame } from './WhenFrame.tsx'
import { PARTNER } from './words.ts'

const DRAFT = 'partner'

export function WhenPartner({ station }: { station: StationRecord }) {
  const was = partner.value
  const [texts, setTexts] = useKept<PlaceTexts>(DRAFT, () => ({
    lat: was ? writtenPlace(was.latDeg) : '',
    lon: was ? writtenPlace(was.lonDeg) : '',
  }))
  const place = placeOfTexts(texts)
  const done = (next: typeof place) => {
    choosePartner(next)
    forget(DRAFT)
    goBack('when')
  }
  return (
    <WhenFrame
      station={station}
      title={PARTNER.title}
      action={
        <Action notNow={place ? null : PARTNER.missing} onPress={() => place && done(place)}>
          {PARTNER.keep}
        </Action>
      }
    >
      <Sentence>{PARTNER.lead}</Sentence>
      <PlaceFields texts={texts} onTexts={setTexts} />
      <Text quiet>{PARTNER.rough}</Text>
      {was && <SecondaryButton onPress={() => done(null)}>{PARTNER.remove}</SecondaryButton>}
    </WhenFrame>
  )
}
