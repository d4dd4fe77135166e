/** Dashes mean the upper axis and nothing else (src/ui/LANGUAGE.md): what is only expected is dotted, a dash of length 0. */
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'

const UI = join(import.meta.dirname, '../../src/ui')
const FILES = readdirSync(UI, { recursive: true, encoding: 'utf8' }).map(name => name.replaceAll('\\', '/'))
const read = (name: string) => readFileSync(join(UI, name), 'utf8')

/** The selectors of a sheet that draw dashes. */
function dashedIn(css: string): string[] {
  const rules = [...css.replace(/\/\*[\s\S]*?\*\//g, '').matchAll(/([^{}]+)\{([^{}]*)\}/g)]
  return rules
    .filter(([, , body]) => /stroke-dasharray:(?!\s*(?:0[ ,]|none))|border[^;]*dashed|outline[^;]*dashed/.test(body!))
    .map(([, selector]) => selector!.trim())
}

describe('dashes', () => {
  it('are drawn for the upper axis alone, in every sheet', () => {
    const dashed = FILES.filter(name => name.endsWith('.css')).flatMap(name => dashedIn(read(name)))
    expect(dashed.length).toBeGreaterThanOrEqual(3)
    expect(dashed.filter(selector => !selector.includes('upper'))).toEqual([])
  })

  it('stand in no drawing by hand, past the sheets', () => {
    const byHand = FILES.filter(name => name.endsWith('.tsx') && /stroke-?dasharray/i.test(read(name)))
    expect(byHand).toEqual([])
  })

  it('go to no line that is not an axis', () => {
    const drawn = FILES.filter(name => name.endsWith('.tsx') && /plot-upper/.test(read(name)))
    expect(drawn.sort()).toEqual([
      'align/StepPlot.tsx',
      'correct/MountPlot.tsx',
      'now/Welcome.tsx',
      'station/DialDrawingPlot.tsx',
      'swing/PerCountPlot.tsx',
    ])
  })

  it('would be seen in a sheet: a dash, a dashed frame; not dots', () => {
    expect(
      dashedIn('.a { stroke-dasharray: 3 2 } .b { border: 1px dashed red } .c { stroke-dasharray: 0 6 } /* .d{} */'),
    ).toEqual(['.a', '.b'])
  })
})
