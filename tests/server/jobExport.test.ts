import { createHash } from 'node:crypto'
import canonicalize from 'canonicalize'
import { beforeAll, describe, expect, test } from 'vitest'
import { checkExport } from '../../kiosk/trace/checkExport.ts'
import type { Carried, JobExport } from '../../machines/contract/jobExport.ts'
import { jobExportRoutes } from '../../server/routes/jobExport.ts'
import { MINUTE, type TestShop } from '../support/serverShop.ts'
import { CLEAR_CUP, DOOR, JOB, must, sprayed } from '../support/sprayedVan.ts'

/** A job taken out of the shop: as a page that checks itself, and as CloudEvents. */

const SHOWS = 'document.getElementById("page").textContent = "runs"'
let shop: TestShop
let html: string
let lines: string[]

const sha256 = (text: string) => createHash('sha256').update(text).digest('hex')
const asked = (query: string, job = JOB) => shop.app.request(`/api/jobs/${job}/export${query}`)
/** What the page carries, and the seal beside it. */
const blockOf = (page: string) => {
  const [, seal = '', text = ''] =
    /<script type="application\/json" id="job" data-sha256="(\w+)">(.*?)<\/script>/s.exec(page) ??
    []
  return { seal, text }
}

beforeAll(async () => {
  shop = await sprayed([jobExportRoutes(() => ({ script: SHOWS, style: 'p{}' }))])
  // Another job in between, and a text that would end the element that carries it.
  await must(shop, 'OpenJob', { job: 'QTHERJ22', title: 'Another van' })
  await must(shop, 'AddNote', { job: JOB, text: 'a </script><!-- note' })
  html = await (await asked('')).text()
  lines = (await (await asked('?as=jsonl')).text()).trimEnd().split('\n')
})

describe('the page', () => {
  test('carries every entry of the job as it lies in the log, and digests of the others', async () => {
    const { seal, text } = blockOf(html)
    const made = checkExport(text, seal)
    expect(made?.changedAt).toBeNull()
    const own = await shop.shops.ownWriter.reader.byThing('job', JOB)
    const carried = new Map(made?.entries.map((entry) => [entry.id, entry]))
    for (const entry of own) expect(carried.get(entry.id)).toEqual(entry)
    expect(made?.entries.some(({ type }) => type === 'ClimateRead')).toBe(true)
    expect(made?.others).toBeGreaterThan(0)
    expect(text).not.toContain('Another van')
    expect(made?.job.head.position).toBe(shop.shops.ownWriter.state().head)
  })

  test('its chain is the one that RFC 8785 and SHA-256 give, calculated here by Node', () => {
    const { pieces, shop: id } = JSON.parse(blockOf(html).text) as JobExport
    const isCarried = (link: Carried | string): link is Carried => typeof link !== 'string'
    expect(pieces[0]?.from).toBe(1)
    expect(pieces[0]?.before).toBe(sha256(id))
    for (const { before, links } of pieces) {
      let hash = before
      for (const link of links) {
        hash = sha256(hash + (isCarried(link) ? sha256(link.text) : link))
        if (!isCarried(link)) continue
        expect(hash).toBe(link.hash)
        expect(canonicalize(JSON.parse(link.text))).toBe(link.text)
      }
    }
  })

  test('a changed byte anywhere in what it carries is told', () => {
    const { seal, text } = blockOf(html)
    for (let at = 0; at < text.length; at += Math.max(1, Math.floor(text.length / 400))) {
      const other = text[at] === '7' ? '8' : '7'
      const made = checkExport(text.slice(0, at) + other + text.slice(at + 1), seal)
      expect([at, made === null || made.changedAt !== null]).toEqual([at, true])
    }
    expect(checkExport(text, `${seal.slice(0, -1)}x`)?.changedAt).toBe(0)
  })

  test('a change that was sealed again is found at its entry', () => {
    const { text } = blockOf(html)
    const at = text.indexOf('in a hurry')
    const forged = text.replace('in a hurry', 'as planned')
    const made = checkExport(forged, sha256(forged))
    const changed = made?.entries.find(({ position }) => position === made.changedAt)
    expect(at).toBeGreaterThan(0)
    expect(changed).toMatchObject({ type: 'CoatStarted', panel: DOOR })
    // An entry left out, and two changed places, are told as well.
    const job = JSON.parse(text) as JobExport
    const shorter = JSON.stringify({
      ...job,
      pieces: job.pieces.map((piece) => ({ ...piece, links: piece.links.toSpliced(4, 1) })),
    })
    expect(checkExport(shorter, sha256(shorter))?.changedAt).toBeGreaterThan(0)
  })

  test('its own program and style are allowed by their digests alone', () => {
    const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1] ?? ''
    const digest = (text: string) =>
      `'sha256-${createHash('sha256').update(text).digest('base64')}'`
    expect(policy).toBe(
      `default-src 'none'; img-src data:; script-src ${digest(SHOWS)}; style-src ${digest('p{}')}`,
    )
    expect(html).toContain('NOT CHECKED')
    expect(html.match(/<\/script>/g)).toHaveLength(2)
  })

  test('a wide gap in the log begins another piece, which starts at a hash of the log', async () => {
    for (let i = 0; i < 1_100; i += 1)
      await must(shop, 'AddNote', { job: 'QTHERJ22', text: `note ${i}` })
    await must(shop, 'AddNote', { job: JOB, text: 'The customer called' })
    const { seal, text } = blockOf(await (await asked('')).text())
    const made = checkExport(text, seal)
    expect(made?.changedAt).toBeNull()
    expect(made?.job.pieces).toHaveLength(2)
    const [, second] = made?.job.pieces ?? []
    const [before] = await shop.shops.ownWriter.reader.raw({
      ...{ after: (second?.from ?? 0) - 2, limit: 1 },
    })
    expect(second?.before).toBe(before?.hash)
  })
})

describe('CloudEvents 1.0', () => {
  test('each line has the required attributes in their forms', () => {
    // cloudevents.io, spec v1.0.2, sections "REQUIRED Attributes" and "Naming Conventions".
    for (const line of lines) {
      const event = JSON.parse(line) as Record<string, unknown>
      expect(event).toMatchObject({ specversion: '1.0', datacontenttype: 'application/json' })
      for (const name of ['id', 'source', 'type']) expect(event[name]).toMatch(/./)
      for (const name of Object.keys(event)) expect(name).toMatch(/^[a-z0-9]+$/)
      expect(new Date(String(event.time)).toISOString()).toBe(event.time)
    }
    const keys = lines.map((line) => {
      const { source, id } = JSON.parse(line)
      return `${source} ${id}`
    })
    // "source + id is unique for each distinct event".
    expect(new Set(keys).size).toBe(lines.length)
  })

  test('each line can be checked alone, and tells what the log has', async () => {
    const events = lines.map((line) => JSON.parse(line))
    for (const { data, previoushash, entryhash } of events)
      expect(sha256(previoushash + sha256(canonicalize(data) ?? ''))).toBe(entryhash)
    const mixed = events.find(({ data }) => data.type === 'CupMixed' && data.cup === CLEAR_CUP)
    expect(mixed).toMatchObject({ subject: `cup/${CLEAR_CUP}`, type: 'flashbell.CupMixed.v1' })
    const positions = events.map(({ position }) => position)
    expect(positions).toEqual([...positions].sort((a, b) => a - b))
  })
})

test('what cannot be exported is said with its field', async () => {
  const wrong = await asked('?as=pdf')
  expect([wrong.status, (await wrong.json()).error]).toMatchObject([400, { field: 'as' }])
  expect((await asked('', 'NNNN2222')).status).toBe(404)
  const page = await asked('')
  expect(page.headers.get('content-disposition')).toBe(
    `attachment; filename="flashbell-${JOB}.html"`,
  )
  shop.clock.advance(MINUTE)
})
