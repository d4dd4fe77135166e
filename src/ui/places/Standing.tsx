/**
 * The database does not open: what that means and what can be done, once as a screen of its own and then as a line on every
 * screen. Also the line of a page whose database a newer version in another tab has taken.
 */
import { useState } from 'preact/hooks'
import { fieldBook } from '../../state/book.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Text } from '../kit/numbers.tsx'
import { APP } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { standingRead } from '../kit/standingread.ts'
import { FAILURE, notOpenWords, STANDING } from '../kit/storewords.ts'

const toExport = () => {
  standingRead.value = true
  go('book', 'export')
}

/** On every screen. */
export function StandingLine() {
  const { kind } = fieldBook.standing.value
  if (fieldBook.isTakenOver.value)
    return (
      <Notice state="stop" word={STANDING.takenWord} live="alert">
        <p>{STANDING.takenLine}</p>
        <SecondaryButton onPress={() => fieldBook.reloadPage()}>{STANDING.reload}</SecondaryButton>
      </Notice>
    )
  if (kind === 'database' || !standingRead.value) return null
  const more = (
    <SecondaryButton
      onPress={() => {
        standingRead.value = false
      }}
    >
      {STANDING.whatToDo}
    </SecondaryButton>
  )
  return kind === 'copy' ? (
    <Notice state="look-out" word={STANDING.copyWord}>
      <p>{STANDING.copyLine}</p>
      {more}
    </Notice>
  ) : (
    <Notice state="stop" word={STANDING.memoryWord}>
      <p>{STANDING.memoryLine}</p>
      <ButtonRow>
        <SecondaryButton onPress={toExport}>{STANDING.exportIt}</SecondaryButton>
        {more}
      </ButtonRow>
    </Notice>
  )
}

/** Before the first screen, and whenever the person asks what to do. */
export function StandingScreen({ present }: { present: string }) {
  const standing = fieldBook.standing.value
  const [tries, setTries] = useState(0)
  const [busy, setBusy] = useState(false)
  const [asked, setAsked] = useState(false)
  const [isLost, setLost] = useState(false)
  if (standing.kind === 'database') return null
  const { failure } = standing
  const records = standing.kind === 'copy' ? standing.records : 0
  const during = async (act: () => Promise<{ kind: string }>, failed: () => void) => {
    setBusy(true)
    setLost(false)
    const outcome = await act()
    setBusy(false)
    if (outcome.kind !== 'done') failed()
  }
  return (
    <Screen
      title={APP}
      present={present}
      onGo={id => {
        standingRead.value = true
        go(id)
      }}
      action={
        <Action
          onPress={() => {
            standingRead.value = true
          }}
        >
          {STANDING.show}
        </Action>
      }
    >
      <Notice
        state={standing.kind === 'copy' ? 'look-out' : 'stop'}
        word={standing.kind === 'copy' ? STANDING.copyWord : STANDING.memoryWord}
        live="alert"
      >
        <p>{notOpenWords(failure)}</p>
        <p>{standing.kind === 'copy' ? STANDING.copy(records) : STANDING.memory}</p>
        <ButtonRow>
          <SecondaryButton
            disabled={busy}
            onPress={() =>
              void during(
                () => fieldBook.tryAgain(),
                () => setTries(n => n + 1),
              )
            }
          >
            {STANDING.again}
          </SecondaryButton>
          <SecondaryButton onPress={toExport}>{STANDING.exportIt}</SecondaryButton>
          {failure.kind === 'newer-tab' && (
            <SecondaryButton onPress={() => fieldBook.reloadPage()}>{STANDING.reload}</SecondaryButton>
          )}
        </ButtonRow>
        <div role="status">
          {busy ? STANDING.trying : tries > 0 && STANDING.stillNot(tries)}
          {isLost && <p>{STANDING.remakeFailed}</p>}
        </div>
        <Text quiet>{FAILURE.details(failure.kind, failure.message)}</Text>
      </Notice>
      {standing.kind === 'copy' && (
        <>
          <Text>{STANDING.remakeWhy(records)}</Text>
          {asked ? (
            <Notice state="stop" live="alert">
              <p>{records === 0 ? STANDING.sureEmpty : STANDING.sure}</p>
              <ButtonRow>
                <SecondaryButton
                  stop
                  disabled={busy}
                  onPress={() => {
                    setAsked(false)
                    void during(
                      () => fieldBook.remake(),
                      () => setLost(true),
                    )
                  }}
                >
                  {STANDING.yes}
                </SecondaryButton>
                <SecondaryButton onPress={() => setAsked(false)}>{STANDING.no}</SecondaryButton>
              </ButtonRow>
            </Notice>
          ) : (
            <SecondaryButton stop onPress={() => setAsked(true)}>
              {STANDING.remake}
            </SecondaryButton>
          )}
        </>
      )}
    </Screen>
  )
}
