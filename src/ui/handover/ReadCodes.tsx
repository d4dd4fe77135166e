/** Codes of another phone, read by this one's camera; a field book then goes to the import, which checks it first. */
import { useEffect, useMemo, useRef } from 'preact/hooks'
import { createReading, type Reading } from '../../state/codereading.ts'
import { isBookText } from '../../state/codes.ts'
import { Action, SecondaryButton } from '../kit/buttons.tsx'
import { CopyText } from '../kit/CopyText.tsx'
import { HelpLine } from '../kit/HelpLine.tsx'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { BigNumber, Sentence, Text } from '../kit/numbers.tsx'
import { Screen } from '../kit/Screen.tsx'
import { TheText } from '../kit/TheText.tsx'
import { isNoCamera, NO_CAMERA, READ, REMARKS, SHOW } from './words.ts'

export function ReadCodes() {
  const reading = useMemo(() => createReading(), [])
  const video = useRef<HTMLVideoElement>(null)
  useEffect(() => () => reading.stop(), [reading])
  const whole = reading.whole.value
  const isBook = whole !== null && isBookText(whole.text)
  useEffect(() => {
    if (isBook) go('book', 'import', 'codes')
  }, [isBook])
  const camera = reading.camera.value
  const isOn = camera === 'on'
  const start = () => {
    if (video.current) void reading.start(video.current)
  }
  return (
    <Screen
      title={READ.title}
      present="book"
      onGo={id => go(id)}
      action={
        isOn ? (
          <Action onPress={() => reading.stop()}>{READ.stop}</Action>
        ) : (
          <Action onPress={start} off={camera === 'starting'}>
            {camera === 'starting' ? READ.starting : whole ? READ.again : READ.start}
          </Action>
        )
      }
    >
      {isNoCamera(camera) && (
        <Notice state="stop" live="alert">
          {NO_CAMERA[camera]}
        </Notice>
      )}
      {whole && !isBook && <Came name={whole.name} text={whole.text} />}
      {!isOn && !whole && <Text>{READ.how}</Text>}
      <div class="camera" hidden={!isOn}>
        <video ref={video} playsInline muted aria-label={READ.camera} />
      </div>
      <Progress reading={reading} isOn={isOn} />
      <Said reading={reading} />
      {!isOn && <SecondaryButton onPress={() => go('book', 'import')}>{READ.otherWays}</SecondaryButton>}
      <HelpLine>{SHOW.hold}</HelpLine>
    </Screen>
  )
}

function Progress({ reading, isOn }: { reading: Reading; isOn: boolean }) {
  const progress = reading.progress.value
  if (progress === null) return isOn ? <Sentence>{READ.looking}</Sentence> : null
  return (
    <>
      <BigNumber size={2} value={String(progress.have)} unit={READ.of(progress.of)} />
      <progress class="progress-bar" aria-label={READ.progress} max={progress.of} value={progress.have} />
    </>
  )
}

/** What the last code was, if it added nothing. */
function Said({ reading }: { reading: Reading }) {
  const remark = reading.remark.value
  const single = reading.single.value
  if (remark === null) return null
  return (
    <Notice state="look-out" live="status">
      <p>{REMARKS[remark]}</p>
      {remark === 'other' && <SecondaryButton onPress={() => reading.startOver()}>{READ.startOver}</SecondaryButton>}
      {remark === 'foreign' && single !== null && (
        <>
          <p class="label">{READ.single}</p>
          <CopyText word={READ.copy} text={single} />
          <TheText text={single} />
        </>
      )}
    </Notice>
  )
}

const Came = ({ name, text }: { name: string; text: string }) => (
  <Notice state="good" live="status">
    <p>{READ.all(name)}</p>
    <CopyText word={READ.copy} text={text} />
    <TheText text={text} />
  </Notice>
)
