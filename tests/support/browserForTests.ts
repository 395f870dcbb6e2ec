import { setTimeout as wait } from 'node:timers/promises'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser } from './browser.ts'

/** Lets a page make a sound that nobody touched for. */
export const SOUND = ['--autoplay-policy=no-user-gesture-required'] as const

/** A browser that does not hear that it is to close, on a busy machine, ends with its test file's process. */
const CLOSE_MOST_MS = 60_000

/** One browser for all tests of a file. @param flags more of the browser's own */
export function browserForTests(flags: readonly string[] = []): Pick<Browser, 'newContext'> {
  let browser: Browser
  beforeAll(async () => {
    browser = await openBrowser(flags)
  })
  afterAll(() => Promise.race([browser.close(), wait(CLOSE_MOST_MS)]))
  return { newContext: (options) => browser.newContext(options) }
}
