/** A tracking program against ours, asked of the core: degrees and UTC text in, verdict and rows out. */
import type { ProgramJson, ProgramWish } from '../core/check/programjson.ts'
import type { StationRecord } from '../core/records/fieldbook.ts'
import { ask, type Told } from './ask.ts'

export const askProgram = (station: StationRecord, feed: string, wish: ProgramWish): Promise<Told<ProgramJson>> =>
  ask(station, 'program', { feed, ...wish })
