/** What the core answers, for tests that ask it something it must answer. */
export function answered<T>(answer: { ok: true; value: T } | { ok: false; faults: unknown }): T {
  if (!answer.ok) throw new Error(JSON.stringify(answer.faults))
  return answer.value
}
