export declare const ROOT: string
export declare const DIST: string
export declare function buildIfStale(): void
