/** The way into the demo station; where something was altered in it before, by way of what restoring it would do. */
import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { ButtonRow, SecondaryButton } from './buttons.tsx'
import { FIRST_WAYS } from './firstways.ts'
import { Notice } from './Notice.tsx'
import { go } from './navigation.ts'
import { RowButton } from './numbers.tsx'

/** @param row  as a row of a list, in place of a button beside `children` */
export function LookAround({ row = false, children }: { row?: boolean; children?: ComponentChildren }) {
  const [failed, setFailed] = useState(false)
  const look = async () => {
    // Most who open the first screen do not need it, so it is loaded at the tap.
    const opened = await import('../../state/demo.ts').then(
      demo => demo.openDemo(),
      () => 'failed' as const,
    )
    setFailed(opened === 'failed')
    if (opened === 'ask') go('book', 'import', 'demo')
  }
  return (
    <>
      {row ? (
        <RowButton label={FIRST_WAYS.demo} onPress={() => void look()} />
      ) : (
        <ButtonRow>
          <SecondaryButton onPress={() => void look()}>{FIRST_WAYS.demo}</SecondaryButton>
          {children}
        </ButtonRow>
      )}
      {failed && (
        <Notice state="stop" live="alert">
          {FIRST_WAYS.demoFailed}
        </Notice>
      )}
    </>
  )
}
