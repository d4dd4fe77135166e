/** The suspects of a solved station alone, without what each was compared with. */

import type { Solved } from '../../src/core/fit/solved.ts'
import { suspected } from '../../src/core/fit/suspects/compare.ts'
import type { Suspect } from '../../src/core/records/solution.ts'

export const suspectsOf = (solved: Solved): Suspect[] => suspected(solved).suspects
