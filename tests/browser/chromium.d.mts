export declare const CHROMIUM_ARGS: string[]
export declare function findChromium(): Promise<string>
