import { afterEach, beforeEach, expect, test } from 'vitest'
import { openLogFile } from '../../server/log/file.ts'
import { lastNamedOn } from '../../server/log/lastNamed.ts'
import { storeOn } from '../../server/log/sqlite.ts'
import { type Content, firstEntries } from '../support/logEntries.ts'
import { logFolder } from '../support/logFiles.ts'

/**
 * The last entry of a thing that is of a type, as a trace asks for it. A booth of ten years is named by hundreds of
 * thousands of entries, and its fans may never have been set.
 */

let place: ReturnType<typeof logFolder>
beforeEach(() => {
  place = logFolder()
})
afterEach(() => place.remove())

const SHOP = 'S1'
const BOOTH = 'booth'
const OVEN = 'oven'

test('it takes as long as the fewer of the two have entries, and lets others have their turn', async () => {
  const db = openLogFile(place.file)
  const store = storeOn(db)
  const sprayed = (n: number): Content => ({ type: 'CoatStarted', at: 2_000 + n, zone: BOOTH })
  const read = (n: number): Content => ({ type: 'ClimateRead', at: 2_000 + n, zone: OVEN })
  const all = Array.from({ length: 500 }, (_, n) => [sprayed(n), read(n)]).flat()
  const saved: Content = { type: 'ZoneSaved', at: 1_000, zone: BOOTH }
  await store.append(SHOP, 0, firstEntries(SHOP, [saved, ...all]))
  const ask = lastNamedOn(db, 10)
  const last = async (zone: string, type: string) => {
    let turns = 0
    const asked = { shop: SHOP, key: 'zone', id: zone, type, toAt: 9e15 } as const
    const found = await ask(asked, async () => {
      turns += 1
    })
    return [found?.position, turns]
  }
  // Saved once, before all that was sprayed in it.
  expect(await last(BOOTH, 'ZoneSaved')).toEqual([1, 0])
  expect(await last(OVEN, 'ZoneSaved')).toEqual([undefined, 0])
  expect(await last('bench', 'CoatStarted')).toEqual([undefined, 0])
  expect(await last(BOOTH, 'CoatStarted')).toEqual([1_000, 0])
  // Nobody ever measured in the booth: both have five hundred, of which eleven are looked through at a time.
  expect(await last(BOOTH, 'ClimateRead')).toEqual([undefined, 45])
  await store.close()
})
