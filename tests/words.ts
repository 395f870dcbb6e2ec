import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fileURLToPath } from 'node:url'
import { sentences, wordsPage } from './support/wordsPage.ts'

/** `npm run words`: every sentence of the interface in both languages on one page. */
const path = fileURLToPath(
  new URL('../node_modules/.cache/flashbell-words/words.html', import.meta.url),
)
const all = sentences()
mkdirSync(dirname(path), { recursive: true })
writeFileSync(path, wordsPage(all))
process.stdout.write(`${all.length} sentences: ${path}\n`)
