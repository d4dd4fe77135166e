export interface Server {
  port: number
  url: string
  stop(): Promise<void>
}
export declare function serve(
  source: string | ReadonlyMap<string, string | ((url: URL) => string)>,
  port?: number,
): Promise<Server>
export declare function freePort(): Promise<number>
