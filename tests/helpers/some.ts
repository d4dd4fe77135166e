/** What a test goes over. @throws Error  there is nothing in it: the test would hold whatever the program does */
export function someOf<T>(list: Iterable<T>): T[] {
  const all = [...list]
  if (all.length === 0) throw new Error('nothing to look at')
  return all
}
