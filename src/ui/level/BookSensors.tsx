/** What this phone's tilt sensors really deliver: permission, source, smallest step, rate, sign; as it is seen now. */
import { useState } from 'preact/hooks'
import { phoneLevel, readySigns } from '../../state/level.ts'
import { Action, ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { CopyText } from '../kit/CopyText.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { Row, Rows, Text } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { UtcNow } from '../kit/UtcNow.tsx'
import { PHONE } from './phonewords.ts'
import { SENSORS, sensorAdvice, sensorRows, sensorText } from './sensorswords.ts'

export function BookSensors() {
  const attitude = phoneLevel.live.value?.attitude ?? null
  const [said, setSaid] = useState<string | null>(null)
  const parts = sensorRows(attitude, phoneLevel.facts())
  const advice = sensorAdvice(attitude)
  const start = () => {
    readySigns()
    void phoneLevel.ask()
  }
  const state = attitude?.state
  return (
    <Screen
      title={SENSORS.title}
      utc={<UtcNow />}
      present="book"
      onGo={id => go(id)}
      action={
        state === 'not-asked' || state === 'denied' ? (
          <Action onPress={start}>{PHONE.start}</Action>
        ) : (
          <Action onPress={() => go('mount', 'live')}>{SENSORS.toLevel}</Action>
        )
      }
      side={
        <>
          <CopyText word={SENSORS.copy} text={sensorText(parts, phoneLevel.agent())} />
          <ButtonRow>
            {state === 'sign-unknown' && (
              <SecondaryButton onPress={() => setSaid(phoneLevel.liesFaceUp() ? null : PHONE.notOnBack)}>
                {PHONE.liesOnBack}
              </SecondaryButton>
            )}
            <SecondaryButton onPress={() => go('book', 'ready')}>{SENSORS.toReady}</SecondaryButton>
          </ButtonRow>
          <p role="status">{said}</p>
        </>
      }
    >
      {advice ? (
        <Notice state="look-out" live="status">
          {advice}
        </Notice>
      ) : (
        <Text>{SENSORS.why}</Text>
      )}
      {parts.map(part => (
        <section key={part.head} aria-label={part.head}>
          <h2>{part.head}</h2>
          <Rows>
            {part.rows.map(row => (
              <Row key={row.label} label={row.label}>
                {row.value}
              </Row>
            ))}
          </Rows>
        </section>
      ))}
    </Screen>
  )
}
