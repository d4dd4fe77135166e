/** A text ready to be copied: made before the tap, and shown to be copied by hand where the phone refuses. */
import { useState } from 'preact/hooks'
import { copyText } from '../../state/copying.ts'
import { AsCodes } from './AsCodes.tsx'
import { ButtonRow, SecondaryButton } from './buttons.tsx'

/** @param p.name  of its file: then it may go as codes too */
export function CopyText({ word, text, name }: { word: string; text: string; name?: string }) {
  // What was copied: a text that has changed since is no longer copied.
  const [copied, setCopied] = useState<{ text: string; outcome: 'copied' | 'refused' } | null>(null)
  const outcome = copied?.text === text ? copied.outcome : null
  return (
    <>
      <ButtonRow>
        <SecondaryButton onPress={() => void copyText(text).then(said => setCopied({ text, outcome: said }))}>
          {word}
        </SecondaryButton>
        {name !== undefined && <AsCodes name={name} text={text} />}
      </ButtonRow>
      <p class="text-2" role="status">
        {outcome === 'copied' ? COPY.copied : outcome === 'refused' ? COPY.notCopied : ''}
      </p>
      {outcome === 'refused' && (
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a part that scrolls must be reachable by keyboard
        <pre class="copy-by-hand" tabIndex={0}>
          {text}
        </pre>
      )}
    </>
  )
}

const COPY = {
  copied: 'Copied.',
  notCopied: 'The phone did not let the page copy. Mark the text below and copy it by hand.',
} as const
