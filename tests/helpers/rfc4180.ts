/**
 * CSV read strictly by RFC 4180: CRLF ends every record, fields are bare (no quote, comma, CR or LF in them) or wholly in quotes with
 * quotes doubled, and every record has as many fields as the first. Anything else throws with its place.
 */
export function parseCsv(text: string): string[][] {
  const records: string[][] = []
  let record: string[] = []
  let at = 0
  const fail = (why: string): never => {
    throw new SyntaxError(`csv: ${why} at ${at}, record ${records.length + 1}`)
  }
  const field = (): string => {
    if (text[at] !== '"') {
      const from = at
      while (at < text.length && !/[",\r\n]/.test(text[at]!)) at++
      if (text[at] === '"') fail('a quote inside a bare field')
      return text.slice(from, at)
    }
    let value = ''
    for (at++; ; ) {
      if (at >= text.length) fail('no closing quote')
      if (text[at] === '"' && text[at + 1] === '"') {
        value += '"'
        at += 2
      } else if (text[at] === '"') {
        at++
        return value
      } else value += text[at++]
    }
  }
  while (at < text.length) {
    record.push(field())
    if (text[at] === ',') {
      at++
      continue
    }
    if (text.slice(at, at + 2) !== '\r\n') fail('neither comma nor CRLF after a field')
    at += 2
    if (records.length > 0 && record.length !== records[0]!.length)
      fail(`${record.length} fields where the first record has ${records[0]!.length}`)
    records.push(record)
    record = []
  }
  if (record.length > 0) fail('no CRLF after the last record')
  return records
}

/** A cell that a spreadsheet would take for a formula: it begins like one and is no number. */
export const isFormula = (cell: string): boolean => /^[=+\-@\t\r]/.test(cell) && !/^-?\d+(\.\d+)?$/.test(cell)
