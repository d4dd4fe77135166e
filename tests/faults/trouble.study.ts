/** Full phone, cut connection, blocked upgrade, newer tab, clock set back, in a real browser. */
import { trouble } from './trouble.ts'

export default trouble
