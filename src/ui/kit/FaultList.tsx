/** What is wrong with a field book, fault by fault. */
import { type Fault, lineFromFault } from '../../core/records/answer.ts'

export function FaultList({ faults }: { faults: readonly Fault[] }) {
  return (
    <ul class="book-list">
      {faults.map(fault => (
        <li key={`${fault.path} ${fault.rule}`}>{lineFromFault(fault)}</li>
      ))}
    </ul>
  )
}
