/** A degree in radians: tests write angles as people do. */
export const DEG = Math.PI / 180
