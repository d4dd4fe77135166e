/** A sighting's form, kept as it is typed. */
import { useKept } from '../keptany.ts'
import type { SightForm } from './form.ts'

/** @param name  of the form: "half.ID" */
export function useKeptForm(name: string, initial: SightForm): [SightForm, (change: Partial<SightForm>) => void] {
  const [form, set] = useKept(
    name,
    () => initial,
    // Readings that came meanwhile from the other half of the sighting stand where none was typed.
    kept => ({ ...kept, lower: kept.lower || initial.lower, upper: kept.upper || initial.upper }),
  )
  return [form, change => set(now => ({ ...now, ...change }))]
}
