import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest'
import type { GenealogyAnswer, LotsAnswer } from '../../machines/contract/genealogy.ts'
import { genealogyRoutes } from '../../server/routes/genealogy.ts'
import { logFolder } from '../support/logFiles.ts'
import { MINUTE, type TestShop } from '../support/serverShop.ts'
import { CLEAR } from '../support/sheets.ts'
import { BASE_CUP, CLEAR_CUP, DOOR, must, SILL, sprayed } from '../support/sprayedVan.ts'

/** A bad can chased to every panel, and a panel back to its cans. */

const place = logFolder()
afterAll(place.remove)
const [FRESH, JOINED] = ['FRFR2222', 'JNJN2222']
let shop: TestShop

const asked = async (path: string) => {
  await vi.waitFor(async () => {
    const { body } = await shop.get('/api/lots')
    expect((body as LotsAnswer).behind).toBe(0)
  })
  const { status, body } = await shop.get(`/api/genealogy/${path}`)
  return { status, body: body as GenealogyAnswer & { error?: { field?: string; message: string } } }
}
const panelsIn = ({ coats }: GenealogyAnswer) =>
  [...new Set(coats.map(({ panel }) => panel))].sort()

/** The van, then a fresh cup of a named lot, joined with what was left of the clear, on the sill. */
beforeAll(async () => {
  shop = await sprayed([genealogyRoutes(place.folder)])
  const lots = [{ name: '2K activator', lot: 'A-778 ' }, 'C-12']
  await must(shop, 'MixCup', {
    ...{ cup: FRESH, sheet: CLEAR.sheet, totalMl: 300, zone: 'booth', lots },
  })
  await must(shop, 'PourCup', {
    cup: JOINED,
    from: [
      { cup: CLEAR_CUP, ml: 20 },
      { cup: FRESH, ml: 100 },
    ],
  })
  shop.clock.advance(12 * MINUTE)
  await must(shop, 'StartCoat', { panels: [SILL], cup: JOINED, override: { reason: 'one cup' } })
  shop.clock.advance(2 * MINUTE)
  await must(shop, 'FinishCoat', { panels: [SILL] })
})

describe('forward', () => {
  test('a lot reaches what was sprayed from a cup that its cup was poured into, and nothing else', async () => {
    const { body } = await asked(`lot/${encodeURIComponent('a-778')}`)
    expect(panelsIn(body)).toEqual([SILL])
    expect(body.counts).toEqual({ coats: 1, panels: 1, jobs: 1, cups: 2 })
    expect(body.coats[0]).toMatchObject({ panelName: SILL, jobTitle: 'Delivery van', cup: JOINED })
  })

  test('a cup reaches its own coats and those of the cup that it was joined into', async () => {
    const { body } = await asked(`cup/${CLEAR_CUP}`)
    expect(panelsIn(body)).toEqual([DOOR, SILL].sort())
    // Twice on the door, once on the sill, and once more from the joined cup.
    expect(body.counts.coats).toBe(4)
    expect(body.coats.map(({ at }) => at)).toEqual(
      body.coats.map(({ at }) => at).sort((a, b) => b - a),
    )
  })
})

describe('back', () => {
  test('a panel names every cup, what these were poured from, and their lots', async () => {
    const { body } = await asked(`panel/${SILL}`)
    expect(body.cups.map(({ cup }) => cup).sort()).toEqual(
      [BASE_CUP, CLEAR_CUP, FRESH, JOINED].sort(),
    )
    const of = (id: string) => body.cups.find(({ cup }) => cup === id)
    expect(of(JOINED)?.parents.toSorted()).toEqual([CLEAR_CUP, FRESH].sort())
    expect(of(FRESH)?.lots).toContainEqual({ lot: 'A-778', component: '2K activator' })
    expect(of(FRESH)?.lots).toContainEqual({ lot: 'C-12', component: null })
    // Nobody typed one: said as what is not recorded, not as none.
    expect(of(BASE_CUP)).toMatchObject({ lots: [], job: null })
  })

  test('the door, which the joined cup never touched, does not name its lot', async () => {
    const { body } = await asked(`panel/${DOOR}`)
    expect(body.cups.flatMap(({ lots }) => lots)).toEqual([])
  })
})

test('pages follow each other without a gap', async () => {
  const all = (await asked(`cup/${CLEAR_CUP}`)).body.coats
  const pages = await Promise.all(
    all.map(async (_, skip) => (await asked(`cup/${CLEAR_CUP}?limit=1&skip=${skip}`)).body),
  )
  expect(pages.flatMap(({ coats }) => coats)).toEqual(all)
  expect(pages.map(({ isMore }) => isMore)).toEqual([true, true, true, false])
})

test('a lot is found by a part of its number, with how many cups it is in', async () => {
  await asked(`cup/${FRESH}`)
  const { body } = await shop.get('/api/lots?find=77')
  expect((body as LotsAnswer).lots).toMatchObject([
    { lot: 'A-778', component: '2K activator', cups: 1 },
  ])
  expect(((await shop.get('/api/lots?find=zzz')).body as LotsAnswer).lots).toEqual([])
})

test('a coat that was voided reaches nothing any more: its end, and then its start', async () => {
  const before = (await asked(`cup/${JOINED}`)).body
  expect(before.counts.coats).toBe(1)
  const ends = Object.values(shop.shops.ownWriter.state().things.panel).flatMap(({ context }) =>
    context.coats.flatMap(({ cups, entry }) => (cups.includes(JOINED) ? [entry] : [])),
  )
  for (const entry of [...ends, before.coats[0]?.entry])
    await must(shop, 'VoidEntry', { entry, reason: 'WRONG_CUP' })
  const after = (await asked(`cup/${JOINED}`)).body
  expect(after.counts.coats).toBe(0)
  expect(after.cups.map(({ cup }) => cup)).toContain(FRESH)
})

test.each([
  ['can/A-778', 400, 'kind'],
  ['cup/no', 400, 'id'],
  ['lot/A-778?limit=0', 400, 'limit'],
  ['cup/NNNN2222', 404, undefined],
  ['lot/none', 404, undefined],
])('%s is answered with a sentence', async (path, status, field) => {
  const { status: is, body } = await asked(path)
  expect([is, body.error?.field]).toEqual([status, field])
  expect(body.error?.message).toMatch(/\w/)
})

test('a damaged file of the index is made anew from the log', async () => {
  const other = logFolder()
  const file = join(other.folder, 'genealogy.sqlite')
  writeFileSync(file, 'not a database')
  const again = await sprayed([genealogyRoutes(other.folder)])
  await vi.waitFor(async () =>
    expect((await again.get(`/api/genealogy/panel/${DOOR}`)).status).toBe(200),
  )
  expect(readFileSync(file).subarray(0, 6).toString()).toBe('SQLite')
  await again.shops.close()
  other.remove()
})
