import { expect, test } from 'vitest'
import { sentences, wordsPage } from '../support/wordsPage.ts'

/** The page of every sentence: what is on it, and that nothing on it is left empty. */

const all = sentences()
const of = (path: string) => all.filter((one) => one.path === path)

test('has every sentence in both languages, with placeholders for what it is given', () => {
  expect(all.length).toBeGreaterThan(1_000)
  expect(all.filter(({ en, es }) => en.trim() === '' || es.trim() === '')).toEqual([])
  expect(of('every screen.jobs.closeDay')).toEqual([
    { path: 'every screen.jobs.closeDay', en: 'Close the day', es: 'Cerrar el día' },
  ])
  expect(of('every screen.clearsIn')[0]?.en).toBe('Clears in ‹1›.')
  expect(new Set(all.map(({ path }) => path)).size).toBe(all.length)
})

/** Made of other sentences, which have rows of their own. */
const COMPOSED = [
  ...['number', 'above0', 'whole', 'noLowerThan', 'belowCutOut'].map((name) => `rules.${name}`),
  ...['server.notStarted', 'server.noBackup', 'damage.lacks', 'backup.damaged'],
]

test('shows as they are written only those that are made of other sentences', () => {
  const unread = all.filter(({ en, es }) => [en, es].some((text) => text.includes('=>')))
  expect(unread.map(({ path }) => path)).toEqual(
    COMPOSED.map((name) => `every screen.said.${name}`),
  )
})

test('is a page that shows a sign as a sign', () => {
  const page = wordsPage([{ path: 'a', en: 'a < b & c', es: '‹1›' }])
  expect(page).toContain('a &#60; b &#38; c')
  expect(page.startsWith('<!doctype html>')).toBe(true)
})
