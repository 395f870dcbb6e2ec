import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { Entry } from '../../machines/envelope.ts'
import { emptyHead } from '../../server/log/chain.ts'
import { openBrowser, openPage, type Site, servePage } from '../support/browser.ts'
import { walkLog } from '../support/golden.ts'

/** Kiosk and server fold the same entries with the same code; their engines' exp and log differ. */

const FOLDER = fileURLToPath(new URL('../logs/', import.meta.url))
let browser: Browser
let site: Site
beforeAll(async () => {
  ;[browser, site] = await Promise.all([openBrowser(), servePage('pages/golden.ts')])
})
afterAll(async () => {
  await browser.close()
  await site.stop()
})

test.each(readdirSync(FOLDER).filter((name) => name.endsWith('.jsonl')))(
  '%s folded in Chromium gives the states and deadlines that Bun gives',
  async (name) => {
    const text = readFileSync(`${FOLDER}${name}`, 'utf8')
    const entries = text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line) as Entry)
    const firstHash = emptyHead(entries[0]?.shop ?? '').hash
    const { page, close } = await openPage(browser, site)
    const folded = await page.evaluate(([log, hash]) => window.walkLog(log, hash), [
      text,
      firstHash,
    ] as const)
    expect(JSON.parse(folded)).toEqual(JSON.parse(JSON.stringify(walkLog(entries, firstHash))))
    await close()
  },
)
