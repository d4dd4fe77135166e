/** Several names of what moved, handed over in one part of an address. */
import { describe, expect, it } from 'vitest'
import { changeOf } from '../../../src/core/export/advice.ts'
import { changeFromForm, emptyChange, formOfChange, wholeForm } from '../../../src/ui/change/form.ts'
import { namesFromPart, partFromNames } from '../../../src/ui/kit/navigation.ts'

describe('names of what moved, in an address', () => {
  it('come back as they were, with commas, slashes and per cent signs in a feed’s own', () => {
    const names = ['lower-axis', 'feed:23 cm, new/old 50%', 'tube']
    expect(namesFromPart(decodeURIComponent(encodeURIComponent(partFromNames(names))))).toEqual(names)
    expect(namesFromPart(undefined)).toEqual([])
    expect(namesFromPart('%E0%A4%A')).toEqual([])
  })

  it('a polar axis turned about its foot is its hour angle’s zero as well: both are picked', () => {
    const what = changeOf({ part: 'polar-axis', toward: 'east' } as never, undefined)
    expect(what).toEqual(['lower-axis', 'lower-zero'])
    expect(emptyChange(namesFromPart(partFromNames(what)), undefined, 0).what).toEqual(what)
  })
})

describe('a position with a name', () => {
  const form = emptyChange(['lower-axis'], '2026-05-03T12:00:00Z', 0)
  const made = (position: Partial<(typeof form)['position']>, what = ['lower-axis']) =>
    changeFromForm({ ...form, what, position: { ...form.position, ...position } }, [], null, null, 'c')

  it('goes in and out of the form as it was; what is empty is left out', () => {
    const change = made({ picked: '', name: ' east ', sigma: '0.2', before: 'west' })
    expect(change).toMatchObject({ record: { position: { name: 'east', sigmaDeg: 0.2, before: 'west' } } })
    const { record } = change as { record: Parameters<typeof formOfChange>[0] }
    expect(changeFromForm(formOfChange(record), [], null, record, 'c')).toEqual(change)
    expect(made({ picked: 'east' })).toMatchObject({ record: { position: { name: 'east' } } })
    expect((made({}) as { record: object }).record).not.toHaveProperty('position')
  })

  it('is no record while the name or the uncertainty cannot be read; a feed has none', () => {
    expect(made({ picked: '', name: '  ' })).toEqual({ kind: 'not-yet', why: 'position' })
    expect(made({ picked: 'east', sigma: 'x' })).toEqual({ kind: 'not-yet', why: 'sigma' })
    expect((made({ picked: 'east' }, ['feed:a']) as { record: object }).record).not.toHaveProperty('position')
  })

  it('a form kept before there were positions is whole again', () => {
    const { position: _, ...old } = form
    expect(wholeForm(old as typeof form)).toEqual(form)
  })
})
