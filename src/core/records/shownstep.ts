/** What an axis shows: the smallest step of its readout. Apart from the readouts' laws, since the first screen shows readings too. */
import type { AxisRecord } from './fieldbook.ts'

/** Degrees, where nothing is said. Common practice, no source. */
const USUAL_STEP_DEG = 0.1

/** In readings: of degrees as the axis says, else a whole count. */
export const shownStep = ({ readout, stepDeg = USUAL_STEP_DEG }: AxisRecord): number =>
  readout.type === 'degrees' ? stepDeg : 1
