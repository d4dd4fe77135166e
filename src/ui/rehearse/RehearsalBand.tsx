/** The band that every screen carries in a rehearsal, and the way to the dish at hand. */
import { fieldBook } from '../../state/book.ts'
import { LessonBox } from './LessonBox.tsx'
import { isSheetOpen } from './open.ts'
import { REHEARSE } from './words.ts'

export function RehearsalBand() {
  const station = fieldBook.station.value
  if (station?.rehearsal !== true) return null
  return (
    <>
      <div class="rehearsal-band">
        <span>{REHEARSE.mark}</span>
        <button
          type="button"
          aria-expanded={isSheetOpen.value}
          onClick={() => {
            isSheetOpen.value = !isSheetOpen.value
          }}
        >
          {isSheetOpen.value ? REHEARSE.close : REHEARSE.open}
        </button>
      </div>
      <LessonBox station={station} />
    </>
  )
}
