import { isDiskFull } from './database-gone'
import { NO_ROOM_DIGEST } from './no-room-digest'

/** What whoever writes waits for: that there was no room for it is told by the failure's digest. */
export async function tellingNoRoom<T>(done: Promise<T>): Promise<T> {
  try {
    return await done
  } catch (error) {
    throw isDiskFull(error) ? Object.assign(error as Error, { digest: NO_ROOM_DIGEST }) : error
  }
}

/** Notes what nobody waits for: where there is no room it is left, so that everything can still be read. */
export async function noteIfRoom(note: () => Promise<unknown>): Promise<void> {
  try {
    await note()
  } catch (error) {
    if (!isDiskFull(error)) throw error
  }
}
