import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import type { Page } from 'playwright-core'
import { overflowPx } from './onScreen.ts'
import { problemsOf, type Rules, targetsOn } from './targets.ts'

/** What every screen is measured by: axe-core, the targets, nothing too wide, nothing cut off. */

/** axe-core is put into the page by the browser itself: the page's own security policy stays as it is. */
export const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js')

type AxeResult = {
  readonly violations: readonly {
    readonly id: string
    readonly help: string
    readonly nodes: readonly {
      readonly target: readonly string[]
      readonly failureSummary?: string
    }[]
  }[]
}

/** Every path that screens.ts lists: a screen that is added is audited from then on. */
export const SCREEN_PATHS: readonly string[] = [
  ...readFileSync(new URL('../../kiosk/screens.ts', import.meta.url), 'utf8').matchAll(
    /path: '([\w-]+)'/g,
  ),
].flatMap((m) => m[1] ?? [])

/** All of axe-core's rules, and text at 7 to 1, large text at 4.5 (WCAG 2.2 SC 1.4.6). */
async function axeProblems(page: Page): Promise<string[]> {
  const { violations } = await page.evaluate<AxeResult>(
    `axe.run(document, {
      rules: { 'color-contrast-enhanced': { enabled: true } },
      resultTypes: ['violations'],
    })`,
  )
  return violations.flatMap(({ id, nodes }) =>
    nodes.map((n) => `${id}: ${n.target.join(' ')} ${n.failureSummary?.split('\n')[1] ?? ''}`),
  )
}

/** Words that do not fit into their box. */
const cutOff = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>('button, a.button, summary.button, .chip')]
      .filter(
        (e) => e.checkVisibility() && e.closest('[inert]') === null && !e.matches('.lane, .who'),
      )
      .filter((e) => {
        const range = document.createRange()
        range.selectNodeContents(e)
        const text = range.getBoundingClientRect()
        const box = e.getBoundingClientRect()
        return text.width > 0 && (text.left < box.left - 1 || text.right > box.right + 1)
      })
      .map((e) => `"${e.textContent}" is cut off`),
  )

/**
 * Every word of the page made longer by two fifths, as another language may be. Set back
 * before anybody else draws: nothing of the page's own runs in between.
 */
async function stretched<T>(page: Page, measure: () => Promise<T>): Promise<T> {
  await page.evaluate(() => {
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT)
    const longer = (text: string) =>
      text.replace(/\p{L}{2,}/gu, (word) => word + word.slice(-Math.ceil(word.length * 0.4)))
    while (walker.nextNode()) {
      const node = walker.currentNode as Text
      // Digits and ids are the same in every language.
      if (node.parentElement?.closest('.digits, svg, script, style') === null)
        node.data = longer(node.data)
    }
  })
  return measure()
}

/** What is wrong with the current screen, each as one line. */
export async function problemsNow(page: Page, rules: Rules): Promise<string[]> {
  await page.evaluate(() => document.fonts.ready)
  const problems = [
    ...(await axeProblems(page)),
    ...problemsOf(await targetsOn(page), rules),
    ...(await cutOff(page)),
  ]
  const wide = await overflowPx(page)
  if (wide > 0) problems.push(`${wide} px wider than the screen`)
  return problems
}

/** What longer words break. */
export const problemsStretched = (page: Page, rules: Rules): Promise<string[]> =>
  stretched(page, async () => {
    const wide = await overflowPx(page)
    return [
      ...problemsOf(await targetsOn(page), rules),
      ...(await cutOff(page)),
      ...(wide > 0 ? [`${wide} px wider than the screen`] : []),
    ].map((problem) => `longer words: ${problem}`)
  })
