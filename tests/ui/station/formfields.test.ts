import { expect, it } from 'vitest'
import { type FormView, faultAt, rowKeys } from '../../../src/ui/station/FormFields.tsx'
import { formFrom, readStationForm, withRow, withText } from '../../../src/ui/station/form.ts'
import { smallBook } from '../../helpers/smallbook.ts'

it('a row added after the step was tried is not red before it was looked at; the others stay so', () => {
  const station = smallBook().stations[0]
  let form = formFrom(station, false)
  const [first] = form.rows.feeds
  form = withText(form, `feeds.${first!.key}.frequencyMHz`, '')
  const triedRows = rowKeys(form)
  form = withRow(form, 'feeds', { id: 'z' })
  const fresh = form.rows.feeds.at(-1)!
  const view = (more: Partial<FormView>): FormView => ({
    form,
    read: readStationForm(form, station, station.id),
    tried: true,
    triedRows,
    seen: false,
    write: () => {},
    set: () => {},
    ...more,
  })
  expect(faultAt(view({}), `feeds.${first!.key}.frequencyMHz`)).toMatch(/./)
  expect(faultAt(view({}), `feeds.${fresh.key}.frequencyMHz`)).toBeNull()
  // Tried again, or looked over as a whole, it counts like the others.
  expect(faultAt(view({ triedRows: rowKeys(form) }), `feeds.${fresh.key}.frequencyMHz`)).toMatch(/./)
  expect(faultAt(view({ triedRows: null }), `feeds.${fresh.key}.frequencyMHz`)).toMatch(/./)
})
