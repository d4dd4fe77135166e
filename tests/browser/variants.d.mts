export interface ListedPart {
  url: string
  bytes: number
  sha256: string
  type: string
}
export function listOf(dir: string): ListedPart[]
export function relist(dir: string, rename?: (url: string) => string): ListedPart[]
export function variant(from: string, to: string, tag: string, options?: { broken?: boolean }): string
