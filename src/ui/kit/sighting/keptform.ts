/** A sighting's form, kept as it is typed. */
import { type Changes, useKept } from '../keptany.ts'
import type { SightForm } from './form.ts'

/**
 * @param name     of the form: "half.ID"
 * @param changes  the record that it changes
 * @param filled   what stood in the readings before anything was typed
 */
export function useKeptForm(
  name: string,
  initial: SightForm,
  changes: Changes = null,
  filled: { lower: string; upper: string } = { lower: '', upper: '' },
): [SightForm, (change: Partial<SightForm>) => void] {
  const isTyped = (kept: SightForm, axis: 'lower' | 'upper') => kept[axis] !== '' && kept[axis] !== filled[axis]
  const [form, set] = useKept(
    name,
    () => initial,
    // Readings that arrived meanwhile from the other half of the sighting are used where none was typed.
    kept => ({
      ...kept,
      lower: isTyped(kept, 'lower') ? kept.lower : initial.lower,
      upper: isTyped(kept, 'upper') ? kept.upper : initial.upper,
    }),
    changes,
  )
  return [form, change => set(now => ({ ...now, ...change }))]
}
