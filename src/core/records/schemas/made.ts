/** What a state of a record was made from, as it is stored and, with `hash`, as it lies in a file (`made.ts`). */
import * as v from 'valibot'
import { keyed, list, object, opt, text } from '../shapes.ts'

const EDIT = '[1-9][0-9]{0,8}\\.[0-9a-f]{16}'
const ONE = new RegExp(`^${EDIT}$`)
const SEVERAL = new RegExp(`^${EDIT}(?: ${EDIT})*$`)

const RULE = 'must be a list of edits such as "1.af63dc4c8601ec8c", in one text with blanks between'
/** Edits in one text, blanks between. */
const edits = () =>
  v.pipe(
    v.string(RULE),
    v.check(said => SEVERAL.test(said), RULE),
  )
const ONE_RULE = 'must be an edit such as "1.af63dc4c8601ec8c"'
const oneEdit = () =>
  v.pipe(
    v.string(ONE_RULE),
    v.check(said => ONE.test(said), ONE_RULE),
  )
const HASH_RULE = 'must be 16 hexadecimal digits'
const hash = () =>
  v.pipe(
    v.string(HASH_RULE),
    v.check(said => /^[0-9a-f]{16}$/.test(said), HASH_RULE),
  )

const MADE = {
  /** All edits in it, its own included. In the store '' too: as if it had never been here. */
  from: edits(),
  /** The edits that wrote every part that `wrote` does not name. Left out: the first of `from`. */
  base: opt(edits()),
  /** By JSON pointer. */
  wrote: opt(keyed(edits())),
  /** Of a station's lists: the order of their entries, and the edit that set it. The latest edit counts. */
  order: opt(keyed(object({ by: oneEdit(), ids: list(text()) }))),
  /** The edits that deleted it; there only while it is deleted. */
  deletedBy: opt(edits()),
  /** In a file: the hash of the content that this belongs to. Where the content differs it was altered since, by a program or person that left `made` unchanged. */
  hash: opt(hash()),
}
export const MadeSchema = object(MADE)

/** Of a deleted record it always says by which edits. */
export const MadeOfDeletedSchema = object({ ...MADE, deletedBy: edits() })
