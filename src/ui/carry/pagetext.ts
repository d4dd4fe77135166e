/** A page as text to copy, share or print: keyboard signs, one number a line. Pure. */
import type { CarryPage } from '../../core/carry/page.ts'
import type { Axis } from '../../core/mount/names.ts'
import { fixed, MINUS, NBSP, seenText } from '../kit/format.ts'
import { capital } from '../kit/phrases.ts'
import { assumptions, CARRY, numberLabel, numberUnit, pageDates, wishWords, worstSentence } from './words.ts'

/** Plain text: keyboard minus, ordinary spaces. */
export const plain = (text: string): string =>
  text
    .replaceAll(MINUS, '-')
    .replaceAll(NBSP, ' ')
    .replaceAll('’', "'")
    .replaceAll(/[\u2068\u2069]/g, '')

const line = (page: CarryPage, n: CarryPage['numbers'][number]): string => {
  const unit = numberUnit(page, n)
  return `  ${numberLabel(page, n)}: ${n.text}${unit === '' ? '' : unit === '°' ? ' deg' : ` ${unit}`}`
}

function axisLines(page: CarryPage, axis: Axis): string[] {
  const { name, form, unit } = page.axes[axis]
  const f = page.formulas[axis]
  const out = unit === 'degrees' ? 'R' : 'counts'
  return [
    '',
    capital(name),
    ...page.numbers.filter(n => n.axis === axis).map(n => line(page, n)),
    `  ${f.command}`,
    ...(f.add === null ? [] : [`  ${CARRY.add}: ${f.add}`]),
    `  ${f.reading}`,
    ...(f.subtract === null ? [] : [`  ${CARRY.subtract}: ${f.subtract}`]),
    ...(form.form === 'table' ? [`  A deg\t${out}`, ...form.rows.map(([a, o]) => `  ${a}\t${o}`)] : []),
  ]
}

export function pageText(page: CarryPage): string {
  const { remains } = page
  const mount = page.numbers.filter(n => n.axis === null)
  return plain(
    [
      `${seenText(page.station)}: ${wishWords(page.wish)}`,
      `Feed ${seenText(page.feed.name)}. ${pageDates(page)}`,
      '',
      CARRY.mount,
      ...(mount.length === 0 ? [`  ${CARRY.nothingOfMount}`] : mount.map(n => line(page, n))),
      ...axisLines(page, 'lower'),
      ...axisLines(page, 'upper'),
      '',
      CARRY.formulasKey,
      '',
      CARRY.assumes,
      ...assumptions(page).map(a => `- ${a}`),
      '',
      CARRY.remains,
      `- rms ${fixed(remains.rmsDeg, 2)} deg, 95 % of the Moon time below ${fixed(remains.p95Deg, 2)} deg`,
      `- worst: ${worstSentence(remains)}`,
      `- ${CARRY.whole}`,
      '',
    ].join('\n'),
  )
}
