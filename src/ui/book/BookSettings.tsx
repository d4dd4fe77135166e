/** What the person chooses for the screens. */
import { angles, CHOICES, sound, theme, units } from '../../state/settings.ts'
import { SecondaryButton } from '../kit/buttons.tsx'
import { Choice } from '../kit/Choice.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { go } from '../kit/navigation.ts'
import { Screen } from '../kit/Screen.tsx'
import { BOOK, SETTINGS } from './words.ts'

export function BookSettings() {
  return (
    <Screen title={SETTINGS.title} present="book" onGo={id => go(id)}>
      <Choice
        label={SETTINGS.theme}
        options={CHOICES.theme.map(value => ({
          value,
          word: SETTINGS.themes[value],
          note: SETTINGS.themeNotes[value],
        }))}
        value={theme.value}
        onPick={value => theme.set(value)}
      />
      <Choice
        label={SETTINGS.units}
        options={CHOICES.units.map(value => ({ value, word: SETTINGS.unitWords[value] }))}
        value={units.value}
        onPick={value => units.set(value)}
      />
      <Choice
        label={SETTINGS.angles}
        options={CHOICES.angles.map(value => ({ value, word: SETTINGS.angleWords[value] }))}
        value={angles.value}
        onPick={value => angles.set(value)}
      />
      <Choice
        label={SETTINGS.sound}
        options={CHOICES.sound.map(value => ({ value, word: SETTINGS.soundWords[value] }))}
        value={sound.value}
        onPick={value => sound.set(value)}
      />
      <HelpLine>{SETTINGS.help}</HelpLine>
      <SecondaryButton onPress={() => go('book')}>{BOOK.back}</SecondaryButton>
    </Screen>
  )
}
