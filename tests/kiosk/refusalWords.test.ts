import { describe, expect, test } from 'vitest'
import { lossText, refusalText, wrongText } from '../../kiosk/commands/refusalText.ts'
import { brokenText } from '../../kiosk/jobs/historyLines.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es } from '../../kiosk/words/all.es.ts'
import { en } from '../../kiosk/words/all.ts'
import { historyIn } from '../../kiosk/words/historyIn.ts'
import { COMMANDS } from '../../machines/commands.ts'
import { parseCommand } from '../../machines/contract.ts'
import type { RefusalParams } from '../../machines/refusalParams.ts'
import { type Problem, REFUSALS, type RefusalCode, refusalOf } from '../../machines/refusals.ts'
import { saidRefusal } from '../support/said.ts'
import { CLEAR } from '../support/sheets.ts'

/** What is refused is said in the shop's language and units, with what was found and what is allowed. */

const NOW = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const CODES = Object.keys(REFUSALS) as RefusalCode[]

const english = { words: en, format: formatOf({}), state: null, now: NOW }
const spanish = { words: es, format: formatOf({ language: 'es' }), state: null, now: NOW }

const MIN_5_AGO = NOW - 5 * MINUTE
const HELD = { name: '2K clear, 2:1', colour: 'white', isOver: true }
/** What the rules may put into a problem of each code. */
const FOUND: { readonly [C in RefusalCode]: Readonly<RefusalParams[C]> } = {
  unknownThing: { what: 'sheet', value: 'base-3', limit: ['base-1', 'base-2'] },
  idTaken: { what: 'cup', value: 'K7QDM2XV', limit: null },
  closed: { limit: null, value: 'VANREAR2', about: 'Rear door' },
  coatRunning: { limit: null, value: null },
  wrongStep: { limit: 'base', value: 'clear-1' },
  windowShut: { limit: MIN_5_AGO, value: NOW },
  flashNotOver: { limit: NOW, value: NOW },
  lookFirst: { limit: NOW, value: NOW },
  heatInZone: { limit: null, value: 'booth' },
  wetInZone: { why: 'flash', limit: NOW, value: 'Side' },
  panelUnknown: { limit: null, value: 'K7QDM2XV' },
  jobUnknown: { limit: null, value: 'VANREAR2' },
  cupUnknown: { limit: null, value: 'K7QDM2XV' },
  cupEmptied: { limit: MIN_5_AGO, value: 'K7QDM2XV' },
  wrongProduct: { limit: 'base-1', value: 'clear-1' },
  wrongColour: { limit: 'blue', value: 'red' },
  colourOff: { limit: 2, value: 3.4, card: 'A' },
  inductionNotOver: { limit: NOW, value: NOW, about: 'K7QDM2XV' },
  potLifeOver: { limit: MIN_5_AGO, value: NOW, about: 'K7QDM2XV' },
  gunEmpty: { limit: null, value: 'gun-1', about: 'gun-1' },
  gunHolds: { limit: 'clear-1', value: 'base-1', about: 'gun-1', held: HELD },
  airOutside: { limit: { minC: 15, maxC: 30, maxRh: 0.85 }, value: { airC: 12, rh: 0.5 } },
  dewPoint: { limit: 3, value: 1.5 },
  noPerson: { limit: ['ana', 'luis'], value: null },
  keepOver: { limit: MIN_5_AGO, value: NOW, about: 'K7QDM2XV' },
  openFade: { limit: null, value: null },
  cleanerOver: { limit: null, value: 'base' },
  forcedNoFigure: { limit: null, value: null },
  filmOver: { limit: 60, value: 75 },
  tooManyCoats: { limit: 3, value: 4 },
  tooFewCoats: { limit: 2, value: 1 },
  nothingThere: { limit: null, value: null },
  noRoom: { limit: 200, value: 300, about: 'K7QDM2XV' },
  partTemp: { limit: 10, value: 6 },
  partHot: { limit: 1_000, value: 500 },
  vehicleLimit: { limit: 60, value: 80, about: 'Delivery van' },
  overheated: { limit: 80, value: 95 },
  coatsMissing: { limit: 'base, clear', value: 'bake' },
  noSuchCure: { limit: 'bake, air', value: 'infrared' },
  curing: { limit: null, value: null },
  notCuring: { limit: null, value: null },
  cleanerWet: { limit: NOW, value: NOW },
  notReady: { limit: NOW, value: NOW, what: 'tape' },
  sandEarly: { limit: NOW, value: NOW },
  wantsBase: { limit: 'base', value: 'clear' },
  ratioOff: {
    limit: { least: 95, most: 110 },
    value: 89.5,
    about: 'K7QDM2XV',
    part: 'activator',
    by: 'volume',
    add: [{ name: 'activator', amount: 10.5 }],
  },
  noActivator: { limit: 95, value: 0, about: 'K7QDM2XV', part: 'activator' },
  optionOutside: { limit: { minC: 15, maxC: 25 }, value: 28, about: 'standard' },
  neverCures: { limit: null, value: null },
  cureNotOver: { limit: NOW, value: NOW },
  stepsLeft: { limit: 'sand, polish', value: null },
  routeInUse: { limit: 'base', value: 2 },
  deviationsOpen: { limit: 'Rear door', value: 2 },
  panelsOpen: { limit: 'Rear door, Side', value: 2 },
  jobState: { limit: 'paused', value: 'open', about: 'Van' },
  bellNotDue: { limit: 'notRung', value: 'potOver:K7QDM2XV' },
  snoozeNotAllowed: { limit: 5, value: 10 },
  entryInUse: {
    limit: { why: 'rested', entry: 'c9.0', kind: 'cup', id: 'K7QDM2XV' },
    value: 'c1.0',
  },
}
type More = { panel?: string; about?: string; clearsAt?: number; limit?: unknown }
const problem = (code: RefusalCode, more: More = {}): Problem =>
  ({ code, ...FOUND[code], ...more }) as Problem

describe('a refusal', () => {
  test.each(CODES)('%s is said in English and in Spanish, with nothing left open', (code) => {
    const refusal = refusalOf([problem(code)])
    const said = [refusalText(refusal, english), refusalText(refusal, spanish)]
    for (const text of said) expect(text).toMatch(/^\S.+\.$/)
    for (const text of said) expect(text).not.toMatch(/undefined|null|NaN|\[object/)
    expect(said[1]).not.toBe(said[0])
    expect(said[1]).not.toMatch(/\b(the|with|Clean|first|held|comes next)\b/)
  })

  test('that clears by itself reads differently from one that does not', () => {
    const flash = (more: More) => refusalText(refusalOf([problem('flashNotOver', more)]), spanish)
    expect(flash({ clearsAt: NOW + MINUTE })).toBe('Aún no ha evaporado.')
    expect(flash({})).toBe('No evapora con este aire: hay demasiada humedad.')
  })

  test.each(['windowShut', 'cupEmptied', 'potLifeOver', 'keepOver'] as const)(
    '%s grows older while it is shown; no other length is fixed in a sentence',
    (code) => {
      const refusal = refusalOf([problem(code)])
      const later = (seen: typeof english, min: number) =>
        refusalText(refusal, { ...seen, now: NOW + min * MINUTE })
      for (const seen of [english, spanish]) {
        expect(later(seen, 0)).toContain(' 5 min')
        expect(later(seen, 2)).toContain(' 7 min')
      }
    },
  )

  test.each(['flashNotOver', 'inductionNotOver', 'cureNotOver', 'windowShut'] as const)(
    '%s leaves what is left of the wait to the countdown beside it',
    (code) => {
      const at = problem(code, { limit: NOW, clearsAt: NOW + 9 * MINUTE })
      for (const seen of [english, spanish])
        expect(refusalText(refusalOf([at]), seen)).not.toMatch(/9 min/)
    },
  )

  test('says limit and value in the shop’s units and names', () => {
    const said = (code: RefusalCode, seen = spanish) =>
      refusalText(refusalOf([problem(code)]), seen)
    expect(said('airOutside')).toContain('12.0 °C y 50 %')
    expect(said('airOutside')).toContain('desde 15.0 °C')
    expect(said('windowShut')).toContain('hace 5 min')
    expect(said('wrongStep')).toContain('Sigue: base')
    expect(said('stepsLeft')).toContain(`${es.stage.sand}, ${es.stage.polish}`)
    expect(said('jobState')).toContain('abierto')
    const format = formatOf({ units: { temperature: 'F', volume: 'flOz' } })
    expect(said('airOutside', { ...english, format })).toContain('54 °F')
    expect(said('dewPoint', { ...english, format })).toContain('3 °F above the dew point')
    expect(said('noRoom', { ...english, format })).toContain('fl oz')
  })

  test('names each panel that it is about, and together those of which the same is said', () => {
    const of = (panel: string, about: string) => problem('coatRunning', { panel, about })
    const refusal = refusalOf([of('P1', 'Door'), of('P2', 'Wing')])
    expect(refusalText(refusal, spanish)).toBe(
      'Door, Wing: Hay una mano en curso. Termínela primero.',
    )
    expect(refusalText(refusal, english)).toBe('Door, Wing: A coat is running. Finish it first.')
    expect(saidRefusal(refusal, NOW).message).toBe(refusalText(refusal, english))
  })

  test('that an earlier build kept is said as it came', () => {
    const { params: _, problems, ...refusal } = refusalOf([problem('airOutside')])
    const parts = problems.map(({ code, params }) => ({ code, ...params }))
    const old = { ...refusal, message: 'The air of Rear door is 12 °C.', problems: parts }
    expect(refusalText(JSON.parse(JSON.stringify(old)), spanish)).toBe(old.message)
  })

  test('that only a server gives is said in the language of the shop', () => {
    const reused = { code: 'commandIdReused', params: { id: 'c1' }, also: [], overridable: false }
    const told = JSON.parse(JSON.stringify(reused))
    expect(refusalText(told, spanish)).toContain('El identificador c1')
    expect(refusalText(told, english)).toContain('Command id c1')
  })
})

describe('what an entry broke', () => {
  // A command that makes no sense is refused at any time: it is never in the log.
  const kept = CODES.filter((code) => !REFUSALS[code].isNonsense)
  test.each(kept)('%s has its name in the history in both languages', (code) => {
    expect(historyIn(en).codes).toHaveProperty(code)
    expect(historyIn(es).codes).toHaveProperty(code)
  })

  test('has no word of English in Spanish: steps, stages, what the rules call things', () => {
    const say = { words: es, format: formatOf({ language: 'es' }) }
    const said = (code: string, limit: string, value: string) =>
      brokenText({ code, limit, value }, NOW, say)
    expect(said('cupUnknown', 'a mixed cup', 'K7QDM2XV')).toBe(
      'vaso desconocido (límite un vaso mezclado, fue K7QDM2XV)',
    )
    expect(said('wrongStep', 'step 2, base,', 'cure')).toBe('otro paso (límite base, fue curado)')
    expect(said('stepsLeft', 'sand, polish', 'none')).toContain(
      `límite ${es.stage.sand}, ${es.stage.polish}`,
    )
    expect(said('noPerson', 'one of ana, luis', 'x')).toContain('límite uno de ana, luis')
  })
})

/** Data of which each field is wrong in a way of its own. */
const WRONG: readonly unknown[] = [undefined, null, -1, 1e9, 0.5, '', 'x'.repeat(3_000), [], true]

describe('a field that is not accepted', () => {
  test.each(Object.keys(COMMANDS))('of %s is said in Spanish without a word of English', (type) => {
    const said = new Set<string>()
    const schema = COMMANDS[type as keyof typeof COMMANDS]
    const keys = 'entries' in schema ? Object.keys(schema.entries) : []
    for (const key of ['other', ...keys]) {
      for (const value of WRONG) {
        const parsed = parseCommand({ id: 'c1', type, data: { [key]: value } })
        if (!parsed.ok) said.add(wrongText(parsed.error, spanish))
      }
    }
    expect(said.size).toBeGreaterThan(0)
    for (const sentence of said) {
      expect(sentence).toMatch(/^(\S+: .* no sirve|Falta \S+)\. Use .+\.$/s)
      expect(sentence).not.toMatch(
        /\b(won't|missing|number|text of|eight|characters|whole|list of|with)\b/,
      )
    }
  })

  test('keeps its numbers and its unit', () => {
    const parsed = parseCommand({
      id: 'c1',
      type: 'SaveZone',
      data: { zone: 'booth', clearanceMin: 999 },
    })
    expect(!parsed.ok && wrongText(parsed.error, english)).toBe(
      "data.clearanceMin: 999 won't work. Use a number from 0 to 240 min.",
    )
    expect(!parsed.ok && wrongText(parsed.error, spanish)).toBe(
      'data.clearanceMin: 999 no sirve. Use un número de 0 a 240 min.',
    )
  })

  test('that is wrong only beside another is said in Spanish too', () => {
    const data = { place: 'Booth door', ambientDb: 80, signalDb: 95 }
    const parsed = parseCommand({ id: 'c1', type: 'CommissionLevel', data })
    expect(!parsed.ok && wrongText(parsed.error, spanish)).toBe(
      'Falta data.siteSignedOff. Use sí por encima de 90 dB(A): solo lo que el taller firmó por escrito.',
    )
  })

  test('of a sheet that cannot be so is said in Spanish too', () => {
    const turned = { limits: { minC: 35, maxC: 15 } }
    const parsed = parseCommand({
      id: 'c1',
      type: 'SaveSheet',
      data: { sheet: { ...CLEAR, ...turned } },
    })
    expect(!parsed.ok && wrongText(parsed.error, spanish)).toBe(
      'data.sheet.limits.maxC: 15 no sirve. Use una temperatura no menor que minC, 35 °C.',
    )
  })
})

test.each([
  ['short', 'ends too early: 3 entries are missing', 'faltan 3 entradas'],
  ['other', 'it had 10 other entries', 'tenía otras 10 entradas'],
] as const)(
  'a log that is %s is said in the language and the time of the shop',
  (kind, inEnglish, inSpanish) => {
    const loss = { kind, head: 7, knownHead: 10, knownHash: 'ab', knownAtMs: NOW }
    const zoned = { timeZone: 'America/Monterrey' } as const
    const told = lossText(loss, { words: en, format: formatOf(zoned) })
    expect(told).toContain(inEnglish)
    expect(told).toMatch(/\b0?2:00\b/)
    expect(lossText(loss, { words: es, format: formatOf({ ...zoned, language: 'es' }) })).toContain(
      inSpanish,
    )
  },
)
