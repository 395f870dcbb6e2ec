import { actsIn } from '../../kiosk/words/acts.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import * as backup from '../../kiosk/words/backup.ts'
import { about as aboutEs } from '../../kiosk/words/calculator.es.ts'
import * as calculator from '../../kiosk/words/calculator.ts'
import * as chain from '../../kiosk/words/chain.ts'
import * as cleanCup from '../../kiosk/words/cleanCup.ts'
import * as colour from '../../kiosk/words/colour.ts'
import * as cupPage from '../../kiosk/words/cupPage.ts'
import * as day from '../../kiosk/words/day.ts'
import * as dayPlan from '../../kiosk/words/dayPlan.ts'
import * as figures from '../../kiosk/words/figures.ts'
import * as find from '../../kiosk/words/find.ts'
import * as firstRun from '../../kiosk/words/firstRun.ts'
import { heatIn } from '../../kiosk/words/heat.ts'
import * as help from '../../kiosk/words/help.ts'
import { es as historyEs } from '../../kiosk/words/history.es.ts'
import { en as historyEn } from '../../kiosk/words/history.ts'
import * as jobExport from '../../kiosk/words/jobExport.ts'
import * as level from '../../kiosk/words/level.ts'
import * as meanings from '../../kiosk/words/meanings.ts'
import * as notes from '../../kiosk/words/notes.ts'
import * as panelEnd from '../../kiosk/words/panelEnd.ts'
import * as printers from '../../kiosk/words/printers.ts'
import * as ready from '../../kiosk/words/ready.ts'
import * as recordsPage from '../../kiosk/words/recordsPage.ts'
import * as settle from '../../kiosk/words/settle.ts'
import { es as setupEs } from '../../kiosk/words/setup.es.ts'
import { en as setupEn } from '../../kiosk/words/setup.ts'
import * as sheetCsv from '../../kiosk/words/sheetCsv.ts'
import * as sheetForm from '../../kiosk/words/sheetForm.ts'
import * as tags from '../../kiosk/words/tags.ts'
import { timelineIn } from '../../kiosk/words/timeline.ts'
import { traceIn } from '../../kiosk/words/traceIn.ts'
import * as traceNotices from '../../kiosk/words/traceNotices.ts'
import * as watching from '../../kiosk/words/watching.ts'
import * as wayOn from '../../kiosk/words/wayOn.ts'
import { wordsOf } from '../../labels/words.ts'
import { calculators } from '../../machines/trade/registry.ts'
import { OPENS as opensEn, UNDER as underEn } from '../../machines/words/coats.en.ts'
import { OPENS as opensEs, UNDER as underEs } from '../../machines/words/coats.es.ts'
import { WHAT } from '../../machines/words/labels.es.ts'
import { PRINT_TROUBLES } from '../../machines/words/printing.ts'
import * as records from '../../machines/words/records.ts'

/** Every sentence of the interface in both languages, to be read through at one sitting. */

export type Sentence = { readonly path: string; readonly en: string; readonly es: string }
type Both = { readonly en: object; readonly es: object }

type Language = 'en' | 'es'
const both = (of: (language: Language) => object): Both => ({ en: of('en'), es: of('es') })
/** The same keys, each with what is made of it. */
const each = <T>(of: Readonly<Record<string, T>>, say: (one: T, key: string) => unknown) =>
  Object.fromEntries(Object.entries(of).map(([key, one]) => [key, say(one, key)]))

const inBoth = (of: (words: { locale: Language }) => object) => both((locale) => of({ locale }))

const PARTS: Readonly<Record<string, Both>> = {
  'every screen': { en, es },
  labels: both(wordsOf),
  setup: { en: setupEn, es: setupEs },
  history: { en: historyEn, es: historyEs },
  ...{ acts: inBoth(actsIn), heat: inBoth(heatIn), 'way on': wayOn, notes, colour },
  ...{ trace: inBoth(traceIn), timeline: inBoth(timelineIn), 'trace notices': traceNotices },
  ...{ settle, chain, records, 'records page': recordsPage, 'job export': jobExport },
  ...{ 'sheet form': sheetForm, 'sheets of a table': sheetCsv, printers, tags },
  ...{
    'clean cup': cleanCup,
    'cup page': cupPage,
    'ready for work': ready,
    help,
    'end of a panel': panelEnd,
    'how the bells did': figures,
  },
  ...{ 'first run': firstRun, 'find a job': find, 'close the day': day, 'day plan': dayPlan },
  'about an answer': { en: each(calculators, ({ about }) => about), es: aboutEs },
  ...{ 'under a coat': { en: underEn, es: underEs }, 'trouble of a printer': PRINT_TROUBLES },
  'a shut window': { en: opensEn, es: opensEs },
  'not there': { en: each(WHAT, (_, key) => key), es: WHAT },
  ...{ backup, level, 'watching itself': watching, calculator, meanings },
}

/** Stands for whatever a sentence is given: a text, a number, a list or a thing with names. */
function given(name: string): unknown {
  const text = `‹${name}›`
  const standIn: object = new Proxy(() => text, {
    get(_, key) {
      if (key === Symbol.toPrimitive || key === 'toString') return () => text
      if (key === Symbol.iterator) return () => [text, text, text][Symbol.iterator]()
      if (key === 'join') return () => text
      if (key === 'length') return 2
      if (key === 'map' || key === 'flatMap' || key === 'filter' || key === 'entries')
        return Array.prototype[key].bind([standIn])
      const ofText = key in String.prototype ? text[key as 'trim'] : undefined
      return typeof ofText === 'function' ? ofText.bind(text) : given(String(key))
    },
    apply: () => text,
  })
  return standIn
}

/** A sentence as it reads with placeholders; one that cannot be read so is shown as it is written. */
function said(word: unknown): string {
  if (typeof word !== 'function') return String(word)
  try {
    const names = Array.from({ length: Math.max(word.length, 1) }, (_, n) => given(`${n + 1}`))
    return String(word(...names))
  } catch {
    return String(word)
  }
}

function sentencesIn(path: readonly string[], one: unknown, other: unknown): Sentence[] {
  if (typeof one !== 'object' || one === null)
    return one === '' ? [] : [{ path: path.join('.'), en: said(one), es: said(other) }]
  const inOther = (other ?? {}) as Readonly<Record<string, unknown>>
  return Object.entries(one).flatMap(([key, word]) =>
    sentencesIn([...path, key], word, inOther[key]),
  )
}

export const sentences = (): Sentence[] =>
  Object.entries(PARTS).flatMap(([part, words]) => sentencesIn([part], words.en, words.es))

const escaped = (text: string): string =>
  text.replace(/[&<>]/g, (sign) => `&#${sign.charCodeAt(0)};`).replaceAll('\n', '<br>')

/** The page: a row a sentence. */
export function wordsPage(all: readonly Sentence[]): string {
  const rows = all.map(
    (one) =>
      `<tr><td class="path">${escaped(one.path)}</td><td lang="en">${escaped(one.en)}</td><td lang="es">${escaped(one.es)}</td></tr>`,
  )
  return `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Flashbell: every sentence</title>
<style>
body { font: 16px/1.4 sans-serif; margin: 1em }
table { border-collapse: collapse; width: 100% }
th { position: sticky; top: 0; background: #fff; text-align: left }
td { border-top: 1px solid #ccc; padding: 4px 8px; vertical-align: top; width: 40% }
.path { width: 20%; color: #555; font-size: 12px; overflow-wrap: anywhere }
</style>
<h1>Every sentence</h1>
<p>${all.length} of them. ‹1› stands for what a sentence is given first.</p>
<table>
<tr><th>Where</th><th>English</th><th>Spanish</th></tr>
${rows.join('\n')}
</table>
</html>
`
}
