import { expect } from 'vitest'
import { sqliteStore } from '../../server/log/sqlite.ts'
import { labelRoutes } from '../../server/routes/labels.ts'
import { photoRoutes } from '../../server/routes/photos.ts'
import { timelineRoutes } from '../../server/routes/timeline.ts'
import { logFolder } from './logFiles.ts'
import { vanInWork } from './serverCommands.ts'
import { openTestShop, type TestShop } from './serverShop.ts'

/** A server without a port on a file of its own, with every route, and the van in work. */

const made: (() => void)[] = []
/** To be called when the tests of a file are over. */
export function removeAll(): void {
  for (const remove of made.splice(0)) remove()
}

export async function openWholeShop(): Promise<TestShop> {
  const { file, folder, remove } = logFolder()
  made.push(remove)
  const shop = await openTestShop({
    store: sqliteStore(file),
    more: [labelRoutes, photoRoutes(folder), timelineRoutes],
    photos: folder,
  })
  for (const wish of vanInWork) expect((await shop.post('/api/commands', wish)).status).toBe(200)
  return shop
}
