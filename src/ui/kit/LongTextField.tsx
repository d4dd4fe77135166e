/** A field for a text that may be very long: beyond some pages it is kept but not laid out, which would block the page. */
import { SecondaryButton } from './buttons.tsx'
import { TextField } from './fields.tsx'
import { fixed, NBSP } from './format.ts'
import { Notice } from './Notice.tsx'

export const LONGEST_SHOWN = 20_000

interface LongTextFieldProps {
  label: string
  text: string
  onText: (text: string) => void
  hint?: string
}

export function LongTextField({ label, text, onText, hint }: LongTextFieldProps) {
  if (text.length > LONGEST_SHOWN)
    return (
      <Notice state="good" live="status">
        {LONG_TEXT.held(fixed(text.length / 1e6, 2))}
        <SecondaryButton onPress={() => onText('')}>{LONG_TEXT.remove}</SecondaryButton>
      </Notice>
    )
  return (
    <div
      onPasteCapture={event => {
        const pasted = event.clipboardData?.getData('text') ?? ''
        if (pasted.length <= LONGEST_SHOWN) return
        event.preventDefault()
        onText(text + pasted)
      }}
    >
      <TextField label={label} text={text} onText={onText} long {...(hint !== undefined && { hint })} />
    </div>
  )
}

const LONG_TEXT = {
  held: (mb: string) => `A text of ${mb}${NBSP}MB is pasted. It is too long to be shown here.`,
  remove: 'Clear it',
}
