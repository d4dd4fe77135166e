import { expect, it, vi } from 'vitest'
import { cautioned, wasCautioned } from '../../src/state/cautions.ts'
import { remember } from '../../src/state/memory.ts'
import { now } from '../../src/state/now.ts'

const at = (utc: string) => vi.spyOn(now, 'peek').mockReturnValue(Date.parse(utc))

it('are new each day, act by act, and whatever is remembered under the key is no answer', () => {
  remember('moonplumb.cautions', null)
  at('2026-05-12T10:00:00Z')
  expect(wasCautioned('dish')).toBe(false)
  cautioned('dish')
  expect(wasCautioned('dish')).toBe(true)
  expect(wasCautioned('sun')).toBe(false)
  cautioned('sun')
  expect([wasCautioned('dish'), wasCautioned('sun')]).toEqual([true, true])
  at('2026-05-13T00:00:01Z')
  expect(wasCautioned('dish')).toBe(false)
  for (const nonsense of ['', 'null', '3', '{"day":"2026-05-13"}', '{"day":"2026-05-13","acts":"dish"}']) {
    remember('moonplumb.cautions', nonsense)
    expect(wasCautioned('dish')).toBe(false)
  }
})
