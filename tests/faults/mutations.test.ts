import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { mutated, mutations } from './mutations.ts'

describe('the list of dangerous changes', () => {
  it.each(mutations().map(m => [m.name, m] as const))('%s still applies, and its test is there', (_, mutation) => {
    const source = readFileSync(mutation.file, 'utf8')
    expect(mutated(source, mutation)).not.toBe(source)
    expect(readFileSync(mutation.test, 'utf8')).toContain(`'${mutation.title}`)
  })

  it('has at least the nine that once stayed green', () => {
    expect(mutations().length).toBeGreaterThanOrEqual(9)
  })
})
