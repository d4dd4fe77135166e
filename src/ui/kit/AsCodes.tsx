/** For another phone nearby, with no network: leads to the screen that shows a text as codes. */
import { toShow } from '../../state/toshow.ts'
import { HAND_ON } from './backupwords.ts'
import { SecondaryButton } from './buttons.tsx'
import { go } from './navigation.ts'

/** @param p.name  the file's, which the other phone gets too */
export function AsCodes({ name, text }: { name: string; text: string }) {
  return (
    <SecondaryButton
      onPress={() => {
        toShow.value = { name, text }
        go('book', 'codes')
      }}
    >
      {HAND_ON.codes}
    </SecondaryButton>
  )
}
