/** Places round and round a middle, farther each time: steps of two axes, the middle first. @param most  rings */
export function* rings(most: number): Generator<readonly [number, number]> {
  for (let ring = 0; ring <= most; ring++)
    for (let i = -ring; i <= ring; i++)
      for (let j = -ring; j <= ring; j++) if (Math.max(Math.abs(i), Math.abs(j)) === ring) yield [i, j]
}
