import { setTimeout as wait } from 'node:timers/promises'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser } from './browser.ts'

/** Lets a page make a sound that nobody touched for. */
export const SOUND = ['--autoplay-policy=no-user-gesture-required'] as const

/** On a busy machine a browser may not answer its close. It then ends with the process of its test file. */
const CLOSE_MOST_MS = 60_000

/** One browser for all tests of a file. @param flags more of the browser's own */
export function browserForTests(flags: readonly string[] = []): Pick<Browser, 'newContext'> {
  let browser: Browser
  beforeAll(async () => {
    browser = await openBrowser(flags)
  })
  afterAll(() => Promise.race([browser.close(), wait(CLOSE_MOST_MS, undefined, { ref: false })]))
  return { newContext: (options) => browser.newContext(options) }
}
