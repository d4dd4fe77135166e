/** Room on the phone: whether the system may delete our data, and how much is used. */

export type Persistence = 'persistent' | 'may-be-cleared' | 'unknown'

const storage = (): StorageManager | undefined =>
  typeof navigator === 'undefined' ? undefined : (navigator.storage as StorageManager | undefined)

/** Asks the browser to keep the data. Some ask the person, so ask after the first save, not on arrival. */
export async function askToPersist(): Promise<Persistence> {
  try {
    const granted = await storage()?.persist?.()
    return granted === undefined ? 'unknown' : granted ? 'persistent' : 'may-be-cleared'
  } catch {
    return 'unknown'
  }
}

export async function persistence(): Promise<Persistence> {
  try {
    const granted = await storage()?.persisted?.()
    return granted === undefined ? 'unknown' : granted ? 'persistent' : 'may-be-cleared'
  } catch {
    return 'unknown'
  }
}

/** Bytes used and bytes allowed, or null where the browser does not say. */
export async function roomLeft(): Promise<{ usedBytes: number; quotaBytes: number } | null> {
  try {
    const estimate = await storage()?.estimate?.()
    if (estimate?.usage === undefined || estimate.quota === undefined) return null
    return { usedBytes: estimate.usage, quotaBytes: estimate.quota }
  } catch {
    return null
  }
}
