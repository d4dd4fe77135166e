/** Something to send, as one code or as a running sequence of them. */
import type { ComponentChildren } from 'preact'
import { useEffect, useMemo, useState } from 'preact/hooks'
import { type Codes, codesOf, createShowing, isBookText } from '../../state/codes.ts'
import { type ToShow, toShow } from '../../state/toshow.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Caution } from '../kit/Caution.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Name, Sentence, Text } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { CodePicture } from './CodePicture.tsx'
import { SHOW } from './words.ts'

export function ShowCodes() {
  const what = toShow.value
  const [codes, setCodes] = useState<Codes | null>(null)
  useEffect(() => {
    let alive = true
    setCodes(null)
    if (what) void codesOf(what).then(made => alive && setCodes(made))
    return () => {
      alive = false
    }
  }, [what])
  if (what === null)
    return (
      <Frame action={<Action onPress={() => go('book', 'export')}>{SHOW.export}</Action>}>
        <Sentence>{SHOW.none}</Sentence>
      </Frame>
    )
  if (codes === null)
    return (
      <Frame>
        <Sentence>{SHOW.preparing}</Sentence>
      </Frame>
    )
  switch (codes.kind) {
    case 'one':
      return (
        <Frame
          side={
            <>
              <What what={what} />
              <Sentence>{SHOW.one}</Sentence>
              <HelpLine>{SHOW.hold}</HelpLine>
            </>
          }
        >
          <CodePicture modules={codes.modules} />
        </Frame>
      )
    case 'too-long':
      return (
        <Frame action={<Action onPress={() => go('book', 'export')}>{SHOW.export}</Action>}>
          <What what={what} />
          <Notice state="stop">{SHOW.tooLong(codes.bytes)}</Notice>
        </Frame>
      )
    case 'sequence':
      return <Running key={codes.sequence.id} what={what} codes={codes} />
  }
}

function Running({ what, codes }: { what: ToShow; codes: Extract<Codes, { kind: 'sequence' }> }) {
  const { sequence, bytes } = codes
  const showing = useMemo(() => createShowing(sequence), [sequence])
  useEffect(() => () => showing.stop(), [showing])
  const isStill = sequence.count === 1
  const isRunning = showing.isRunning.value
  const rate = showing.perSecond.value
  return (
    <Frame
      action={
        isStill ? undefined : (
          <Action onPress={() => (isRunning ? showing.stop() : showing.start())}>
            {isRunning ? SHOW.stop : SHOW.start}
          </Action>
        )
      }
      side={
        <>
          {isStill ? (
            <Sentence>{SHOW.oneOfBook}</Sentence>
          ) : (
            <>
              <p class="code-line">
                <span>
                  {SHOW.rate(rate, !showing.canChange(-1) ? 'slowest' : !showing.canChange(1) ? 'fastest' : null)}
                </span>{' '}
                <span aria-hidden="true">{SHOW.shown(showing.number.value)}</span>
              </p>
              <ButtonRow>
                <SecondaryButton onPress={() => showing.change(-1)}>{SHOW.slower}</SecondaryButton>
                <SecondaryButton onPress={() => showing.change(1)}>{SHOW.faster}</SecondaryButton>
              </ButtonRow>
              {isRunning && /refused|absent/.test(showing.wake.value) && <Text quiet>{SHOW.keepOn}</Text>}
              {!isRunning && <Caution act="codes" gravest={SHOW.flicker} more={SHOW.flickerMore} />}
            </>
          )}
          <Text>{SHOW.how}</Text>
          <What what={what} />
          <Text quiet>{SHOW.size(bytes, sequence.count)}</Text>
          <HelpLine>
            <p>{SHOW.hold}</p>
            {isBookText(what.text) && <p>{SHOW.notBackup}</p>}
          </HelpLine>
        </>
      }
    >
      <CodePicture modules={showing.modules.value} />
    </Frame>
  )
}

const What = ({ what }: { what: ToShow }) => (
  <p class="text-2">
    <Name>{what.name}</Name>
  </p>
)

interface FrameProps {
  action?: ComponentChildren
  /** Under the code; beside it where the window is wide. */
  side?: ComponentChildren
  children: ComponentChildren
}
const Frame = ({ action, side, children }: FrameProps) => (
  <Screen title={SHOW.title} present="book" onGo={id => go(id)} {...(action && { action })} {...(side && { side })}>
    {children}
  </Screen>
)
