/** The browser's print dialog; where there is none, nothing happens. */

/** An app of the home screen of iOS, and Android's web views, may have the call and no dialog behind it: that cannot be seen here. */
export const canPrint = (): boolean => typeof globalThis.print === 'function'

export const printPage = (): void => globalThis.print()
