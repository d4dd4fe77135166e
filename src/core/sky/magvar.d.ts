/** The part of magvar 2.2.0 that is used: degrees, km, nT. */
declare module 'magvar' {
  export function calculateMagneticField(
    decimalYear: number,
    latitude: number,
    longitude: number,
    altitudeKm?: number,
  ): { x: number; y: number; z: number; h: number }
}
