import type { Recipe } from '../../src/core/export/recipe.ts'

export type Numbers = Record<string, number | number[]>
export function fromText(text: string): Numbers
export function fromJson(recipe: Recipe): Numbers
export function direction(
  n: Numbers,
  reading1: number,
  reading2: number,
): { T: number; S: number; az: number; el: number }
export function readings(
  n: Numbers,
  az: number,
  el: number,
): { T: number; S: number; lower: number; upper: number } | null
export function lifted(n: Numbers, h: number): number
export function built(n: Numbers): { P: number[]; Q: number[]; C: number[]; droop: number }
