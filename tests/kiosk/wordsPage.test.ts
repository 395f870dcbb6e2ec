import { readdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { expect, test } from 'vitest'
import { sentences, wordsPage } from '../support/wordsPage.ts'

/** The page of every sentence: what is on it, and that nothing on it is left empty. */

const all = sentences()
const of = (path: string) => all.filter((one) => one.path === path)

test('has every sentence in both languages, with placeholders for what it is given', () => {
  expect(all.length).toBeGreaterThan(2_900)
  expect(all.filter(({ en, es }) => en.trim() === '' || es.trim() === '')).toEqual([])
  expect(of('every screen.jobs.closeDay')).toEqual([
    { path: 'every screen.jobs.closeDay', en: 'Close the day', es: 'Cerrar el día' },
  ])
  expect(of('every screen.clearsIn')[0]?.en).toBe('Clears in ‹1›.')
  expect(new Set(all.map(({ path }) => path)).size).toBe(all.length)
})

/** The plain texts within what a file of words holds. */
const textsIn = (word: unknown): string[] =>
  typeof word === 'string'
    ? [word]
    : typeof word === 'object' && word !== null
      ? Object.values(word).flatMap(textsIn)
      : []

/** What is told by functions of a file, in both languages: `actsIn`. */
const toldBy = (name: string, of: unknown): unknown[] =>
  typeof of === 'function' && name.endsWith('In') && name !== 'whyIn' && name !== 'wordsIn'
    ? ['en', 'es'].map((locale) => of({ locale }))
    : []

test('leaves out no text of any file of words', async () => {
  const shown = new Set(all.flatMap(({ en, es }) => [en, es]))
  const left: string[] = []
  for (const folder of ['kiosk/words', 'machines/words']) {
    const path = fileURLToPath(new URL(`../../${folder}/`, import.meta.url))
    for (const file of readdirSync(path)) {
      const has: Record<string, unknown> = await import(/* @vite-ignore */ `${path}${file}`)
      const words = Object.entries(has).flatMap(([name, of]) => [of, ...toldBy(name, of)])
      const texts = words.flatMap(textsIn).filter((text) => text !== '' && !shown.has(text))
      if (texts.length > 0) left.push(`${folder}/${file}: ${texts[0]}`)
    }
  }
  expect(left).toEqual([])
})

/** Made of other sentences, which have rows of their own. */
const SAID = [
  ...['number', 'above0', 'whole', 'noLowerThan', 'belowCutOut'].map((name) => `rules.${name}`),
  ...['server.notStarted', 'server.noBackup', 'damage.lacks', 'backup.damaged'],
]
const COMPOSED = [
  ...SAID.map((name) => `every screen.said.${name}`),
  ...['clockSet', 'clockOff', 'toldLate'].map((name) => `trace notices.${name}`),
  'printers.trouble',
]

test('shows as they are written only those that are made of other sentences', () => {
  const unread = all.filter(({ en, es }) => [en, es].some((text) => text.includes('=>')))
  expect(unread.map(({ path }) => path)).toEqual(COMPOSED)
})

test('is a page that shows a sign as a sign', () => {
  const page = wordsPage([{ path: 'a', en: 'a < b & c', es: '‹1›' }])
  expect(page).toContain('a &#60; b &#38; c')
  expect(page.startsWith('<!doctype html>')).toBe(true)
})
