import type { Browser } from 'playwright-core'
import { afterAll, beforeAll } from 'vitest'
import { openBrowser } from './browser.ts'

/** Lets a page make a sound that nobody touched for. */
export const SOUND = ['--autoplay-policy=no-user-gesture-required'] as const

/** One browser for all tests of a file. @param flags more of the browser's own */
export function browserForTests(flags: readonly string[] = []): Pick<Browser, 'newContext'> {
  let browser: Browser
  beforeAll(async () => {
    browser = await openBrowser(flags)
  })
  afterAll(() => browser.close())
  return { newContext: (options) => browser.newContext(options) }
}
