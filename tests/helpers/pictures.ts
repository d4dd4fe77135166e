/**
 * A code on a screen as another phone's camera sees it: placed, turned, seen at a slant, out of focus, with noise and uneven light.
 * Made here, pixel by pixel, and none of it by the library that reads it.
 */
import type { Modules } from '../../src/core/handover/code.ts'
import type { Picture } from '../../src/core/handover/seen.ts'
import { chance } from './random.ts'

export interface Look {
  /** Pixels of the square picture, a side. */
  side: number
  /** Side of the code with its border, over that of the picture. */
  fill: number
  turnDeg?: number
  /** How much nearer the upper edge is than the lower, and the left than the right: 0.3 makes it 30 % longer. */
  slantUp?: number
  slantLeft?: number
  /** Standard deviation of the blur, pixels. */
  blurPx?: number
  /** Standard deviation of the noise, of 255. */
  noise?: number
  /** From 1 at one corner down to this at the other. */
  shade?: number
  /** Colours of the screen, red, green, blue; default white and black. */
  light?: readonly [number, number, number]
  dark?: readonly [number, number, number]
  /** Of the room around the phone. */
  around?: readonly [number, number, number]
  seed?: number
}

/** Two samples of a pixel, each way: edges are soft, as in a camera. */
const SAMPLES = [0.25, 0.75]

export function seenByCamera(modules: Modules, look: Look): Picture {
  const { side, fill } = look
  const light = look.light ?? [255, 255, 255]
  const dark = look.dark ?? [0, 0, 0]
  const around = look.around ?? [90, 96, 88]
  const turn = ((look.turnDeg ?? 0) * Math.PI) / 180
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)]
  const width = modules.length
  // Of a grey picture one plane stands for all three.
  const isGrey = [light, dark, around].every(([r, g, b]) => Math.abs(r - g) < 10 && Math.abs(r - b) < 10)
  const planes = (isGrey ? [0] : [0, 1, 2]).map(() => new Float64Array(side * side))
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      const sum = [0, 0, 0]
      for (const dy of SAMPLES)
        for (const dx of SAMPLES) {
          // Counted in half sides of the code, from its middle.
          const px = (2 * (x + dx - side / 2)) / (fill * side)
          const py = (2 * (y + dy - side / 2)) / (fill * side)
          const [rx, ry] = [cos * px + sin * py, -sin * px + cos * py]
          const w = 1 + ((look.slantUp ?? 0) / 2) * ry + ((look.slantLeft ?? 0) / 2) * rx
          const column = Math.floor(((rx / w + 1) / 2) * width)
          const row = Math.floor(((ry / w + 1) / 2) * width)
          const isOn = column >= 0 && row >= 0 && column < width && row < width && w > 0
          const colour = !isOn ? around : modules[row]?.[column] ? dark : light
          for (let c = 0; c < planes.length; c++) sum[c]! += colour[c]!
        }
      for (let c = 0; c < planes.length; c++) planes[c]![y * side + x] = sum[c]! / SAMPLES.length ** 2
    }
  const luck = chance(look.seed ?? 1)
  const data = new Uint8ClampedArray(4 * side * side).fill(255)
  planes.forEach((sharp, c) => {
    const plane = blurred(sharp, side, look.blurPx ?? 0)
    for (let y = 0; y < side; y++)
      for (let x = 0; x < side; x++) {
        const shade = 1 - (1 - (look.shade ?? 1)) * ((x + y) / (2 * side))
        const value = plane[y * side + x]! * shade + luck.normal(look.noise ?? 0)
        const at = 4 * (y * side + x)
        data[at + c] = value
        if (isGrey) {
          data[at + 1] = value
          data[at + 2] = value
        }
      }
  })
  return { width: side, height: side, data }
}

/** Gaussian, one way and then the other; the edge goes on as it is. */
function blurred(plane: Float64Array, side: number, sigma: number): Float64Array {
  if (sigma <= 0) return plane
  const reach = Math.ceil(3 * sigma)
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigma ** 2)))
  const total = weights.reduce((a, b) => a + b)
  const along = (from: Float64Array, stepX: number, stepY: number) => {
    const out = new Float64Array(from.length)
    const step = stepX + stepY * side
    for (let y = 0; y < side; y++)
      for (let x = 0; x < side; x++) {
        const at = stepX === 1 ? x : y
        let sum = 0
        for (let k = -reach; k <= reach; k++) {
          const to = at + k < 0 ? -at : at + k >= side ? side - 1 - at : k
          sum += weights[k + reach]! * from[y * side + x + to * step]!
        }
        out[y * side + x] = sum / total
      }
    return out
  }
  return along(along(plane, 1, 0), 0, 1)
}
