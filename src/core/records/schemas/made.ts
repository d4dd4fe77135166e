/** What a state of a record was made from, as it is stored and, with `hash`, as it lies in a file (`made.ts`). */
import { keyed, list, matching, object, opt, text } from '../shapes.ts'

const EDIT = '[1-9][0-9]{0,8}\\.[0-9a-f]{16}'
/** Edits in one text, blanks between. */
const edits = () =>
  matching(
    new RegExp(`^${EDIT}(?: ${EDIT})*$`),
    'must be a list of edits such as "1.af63dc4c8601ec8c", in one text with blanks between',
  )
const oneEdit = () => matching(new RegExp(`^${EDIT}$`), 'must be an edit such as "1.af63dc4c8601ec8c"')
const hash = () => matching(/^[0-9a-f]{16}$/, 'must be 16 hexadecimal digits')

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
