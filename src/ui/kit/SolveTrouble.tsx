/** Why there is no solution: the computation failed, or the station's records break rules. Nothing where all is well. */
import { answer } from '../../state/answer.ts'
import { Notice } from './Notice.tsx'

export function SolveTrouble() {
  const { failure, faults } = answer.value
  return (
    <>
      {failure && (
        <Notice state="stop">The computation failed: {failure.message}. Export the book and report it.</Notice>
      )}
      {faults.map(f => (
        <Notice key={f.path} state="stop">
          {f.path}: {f.rule}
        </Notice>
      ))}
    </>
  )
}
