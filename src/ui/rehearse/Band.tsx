/** The band that every screen carries in a rehearsal, and the way to the dish at hand. */
import { fieldBook } from '../../state/book.ts'
import { LessonBox } from './LessonBox.tsx'
import { isOpen } from './open.ts'
import { REHEARSE } from './words.ts'

export function Band() {
  const station = fieldBook.station.value
  if (station?.rehearsal !== true) return null
  return (
    <>
      <div class="rehearsal-band">
        <span>{REHEARSE.mark}</span>
        <button
          type="button"
          aria-expanded={isOpen.value}
          onClick={() => {
            isOpen.value = !isOpen.value
          }}
        >
          {isOpen.value ? REHEARSE.close : REHEARSE.open}
        </button>
      </div>
      <LessonBox station={station} />
    </>
  )
}
