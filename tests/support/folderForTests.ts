import { afterEach, beforeEach } from 'vitest'
import { dataFolder, killAll } from './serverProcess.ts'

/** A data folder for each test of a file. What runs on it is ended before it is removed. */
export function folderForTests() {
  let place: ReturnType<typeof dataFolder>
  const fresh = () => {
    place = dataFolder()
  }
  beforeEach(fresh)
  afterEach(() => {
    killAll()
    place.remove()
  })
  return {
    get folder() {
      return place.folder
    },
    /** Goes on in an empty one. */
    renew(): void {
      place.remove()
      fresh()
    },
  }
}
