/** A tracking program against ours: each fault 100 times with 0.05° of noise, by one, two and three places; the confusion tables. */
import { confusion } from '../helpers/programtrials.ts'

export default async () =>
  Object.fromEntries([1, 2, 3].map(rows => [`${rows} places`, confusion(100, rows, 10 + rows)]))
