/**
 * Round each place: when a screen throws, one sentence replaces it, and the ways out stay: another place, the
 * last step undone, the book as a file. The code here must not need what has thrown: no number is formatted, nothing of a place is used.
 */
import { Component, type ComponentChildren } from 'preact'
import type { Handed } from '../../state/export.ts'
import { phoneMs } from '../../state/now.ts'
import { ButtonRow, SecondaryButton } from '../kit/buttons.tsx'
import { HANDED } from '../kit/handedwords.ts'
import { Notice } from '../kit/Notice.tsx'
import { go } from '../kit/navigation.ts'
import { APP, BROKEN } from '../kit/phrases.ts'
import { Screen } from '../kit/Screen.tsx'
import { UndoStrip } from '../kit/undo.tsx'

interface Props {
  /** Of the address: another one is tried again. */
  where: string
  present: string
  /** Called when something was thrown: what can be given up is. */
  onBroken?: () => void
  children: ComponentChildren
}
interface State {
  /** What was thrown, and at which address. */
  broken: { message: string; where: string } | null
  /** What became of the file; null: not tried. */
  saved: Handed | null
}

export class PlaceBoundary extends Component<Props, State> {
  override state: State = { broken: null, saved: null }

  override componentDidCatch(error: unknown): void {
    this.setState({ broken: { message: String(error), where: this.props.where }, saved: null })
    this.props.onBroken?.()
  }

  /** A broken screen is tried again when the person comes back to it; the next address may have thrown at once too. */
  override componentDidUpdate(): void {
    if (this.state.broken === null) return
    this.setState(({ broken }) => (broken !== null && broken.where !== this.props.where ? { broken: null } : null))
  }

  override render({ where, present, children }: Props, { broken, saved }: State) {
    if (broken === null || broken.where !== where) return children
    const again = () => this.setState({ broken: null })
    return (
      <Screen title={APP} present={present} onGo={id => go(id)}>
        <Notice state="stop" live="alert">
          {BROKEN.what}
        </Notice>
        <ButtonRow>
          <SecondaryButton onPress={() => void saveBook().then(done => this.setState({ saved: done }))}>
            {BROKEN.save}
          </SecondaryButton>
          <SecondaryButton onPress={again}>{BROKEN.again}</SecondaryButton>
        </ButtonRow>
        <UndoStrip onUndone={again} />
        {saved !== null && <p role="status">{savedWords(saved)}</p>}
        <p class="text-2">{BROKEN.details(broken.message)}</p>
      </Screen>
    )
  }
}

const savedWords = (saved: Handed): string =>
  saved === 'started' ? BROKEN.saved : saved === 'refused' ? BROKEN.notSaved : HANDED[saved]

/** All stations, as a file; as an app on iOS, where nothing can be saved, by the share sheet. Loaded when it is needed. */
async function saveBook(): Promise<Handed> {
  try {
    const { bestWay, bookParcel, handOn } = await import('../../state/export.ts')
    const { fieldBook } = await import('../../state/book.ts')
    const all = fieldBook.stations.value.map(station => station.id)
    const parcel = bookParcel('', phoneMs(), all)
    return (await handOn(parcel.download ? 'download' : bestWay(parcel), parcel)).outcome
  } catch {
    return 'refused'
  }
}
