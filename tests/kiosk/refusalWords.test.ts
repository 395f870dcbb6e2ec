import { describe, expect, test } from 'vitest'
import { refusalText } from '../../kiosk/commands/refusalText.ts'
import { brokenText } from '../../kiosk/jobs/historyLines.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { en } from '../../kiosk/words/en.ts'
import { es } from '../../kiosk/words/es.ts'
import { COMMANDS } from '../../machines/commands.ts'
import { parseCommand } from '../../machines/contract.ts'
import { type Problem, REFUSALS, type RefusalCode, refusalOf } from '../../machines/refusals.ts'
import { CLEAR } from '../support/sheets.ts'

/** What is refused is said in the shop's language and units, with what was found and what is allowed. */

const NOW = Date.UTC(2026, 10, 25, 8)
const MINUTE = 60_000
const CODES = Object.keys(REFUSALS) as RefusalCode[]

const english = { words: en, format: formatOf({}), state: null, now: NOW }
const spanish = { words: es, format: formatOf({ language: 'es' }), state: null, now: NOW }

/** What the rules put into a problem where it is not plain text. */
const FOUND: Partial<Record<RefusalCode, Partial<Problem>>> = {
  windowShut: { limit: NOW - 5 * MINUTE, value: NOW },
  cupEmptied: { limit: NOW - 5 * MINUTE },
  potLifeOver: { limit: NOW - 5 * MINUTE, value: NOW },
  keepOver: { limit: NOW - 5 * MINUTE, value: NOW },
  airOutside: {
    limit: { minC: 15, maxC: 30, maxRh: 0.85 },
    value: { airC: 12, rh: 0.5 },
    words: { limit: 'from 15 °C to 30 °C, at most 85 % RH', value: '12 °C, 50 % RH' },
  },
  bellNotDue: { limit: 'It has not rung.' },
  dewPoint: { limit: 3, value: 1.5 },
  noRoom: { limit: 200, value: 300 },
  tooManyCoats: { limit: 3, value: 4 },
  tooFewCoats: { limit: 2, value: 1 },
  wrongStep: { limit: 'base with base-solvent' },
  coatsMissing: { limit: 'base, clear' },
  stepsLeft: { limit: 'sand, polish' },
  noSuchCure: { limit: 'bake, air', value: 'infrared' },
  jobState: { limit: 'paused', value: 'open' },
}
const problem = (code: RefusalCode, more: Partial<Problem> = {}): Problem => ({
  code,
  limit: 'LIMIT',
  value: 'VALUE',
  about: 'Rear door',
  ...FOUND[code],
  ...more,
})

describe('a refusal', () => {
  test.each(CODES)('%s is said in English and in Spanish, with nothing left open', (code) => {
    const refusal = refusalOf([problem(code)], NOW)
    const said = [refusalText(refusal, english), refusalText(refusal, spanish)]
    for (const text of said) expect(text).toMatch(/^\S.+\.$/)
    for (const text of said) expect(text).not.toMatch(/undefined|null|NaN|\[object/)
    expect(said[1]).not.toBe(said[0])
    expect(said[1]).not.toBe(refusal.message)
    expect(said[1]).not.toMatch(/\b(the|with|Clean|first|held|comes next)\b/)
  })

  test('that clears by itself says so', () => {
    const flash = (more: Partial<Problem>) =>
      refusalText(refusalOf([problem('flashNotOver', more)], NOW), spanish)
    expect(flash({ clearsAt: NOW + MINUTE })).toBe('Aún no ha evaporado.')
    expect(flash({})).toBe('No evapora con este aire: hay demasiada humedad.')
  })

  test.each(['windowShut', 'cupEmptied', 'potLifeOver', 'keepOver'] as const)(
    '%s grows older while it is shown; no other length is fixed in a sentence',
    (code) => {
      const refusal = refusalOf([problem(code)], NOW)
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
        expect(refusalText(refusalOf([at], NOW), seen)).not.toMatch(/9 min/)
    },
  )

  test('says limit and value in the shop’s units and names', () => {
    const said = (code: RefusalCode, seen = spanish) =>
      refusalText(refusalOf([problem(code)], NOW), seen)
    expect(said('airOutside')).toContain('12.0 °C 50 %')
    expect(said('airOutside')).toContain('desde 15.0 °C')
    expect(said('windowShut')).toContain('hace 5 min')
    expect(said('wrongStep')).toContain('sigue base base-solvent')
    expect(said('stepsLeft')).toContain(`${es.stage.sand}, ${es.stage.polish}`)
    expect(said('jobState')).toContain('abierto')
    const format = formatOf({ units: { temperature: 'F', volume: 'flOz' } })
    expect(said('airOutside', { ...english, format })).toContain('54 °F')
    expect(said('dewPoint', { ...english, format })).toContain('3 °F above the dew point')
    expect(said('noRoom', { ...english, format })).toContain('fl oz')
  })

  test('names each panel that it is about, and together those of which the same is said', () => {
    const of = (panel: string, about: string) => problem('coatRunning', { panel, about })
    const refusal = refusalOf([of('P1', 'Door'), of('P2', 'Wing')], NOW)
    expect(refusalText(refusal, spanish)).toBe(
      'Door, Wing: Hay una mano en curso. Termínela primero.',
    )
    expect(refusalText(refusal, english)).toBe(refusal.message)
  })

  test('that an earlier build kept is said as it came', () => {
    const { problems: _, ...old } = refusalOf([problem('airOutside')], NOW)
    expect(refusalText(old, spanish)).toBe(old.message)
  })
})

describe('what an entry broke', () => {
  // A command that makes no sense is refused at any time: it is never in the log.
  const kept = CODES.filter((code) => !REFUSALS[code].isNonsense)
  test.each(kept)('%s has its name in the history in both languages', (code) => {
    expect(en.jobs.history.codes).toHaveProperty(code)
    expect(es.jobs.history.codes).toHaveProperty(code)
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
        if (!parsed.ok) said.add(es.wrong(parsed.error))
      }
    }
    expect(said.size).toBeGreaterThan(0)
    for (const sentence of said) {
      expect(sentence).toMatch(/^(No s|S)e escribió .*; se acepta .+\.$|^No se escribió nada; /s)
      expect(sentence).not.toMatch(
        /\b(accepted|number|text of|eight|characters|whole|list of|with)\b/,
      )
    }
  })

  test('keeps its numbers and its unit', () => {
    const parsed = parseCommand({
      id: 'c1',
      type: 'SaveZone',
      data: { zone: 'booth', clearanceMin: 999 },
    })
    expect(!parsed.ok && en.wrong(parsed.error)).toBe(
      'data.clearanceMin was 999; accepted is a number from 0 to 240 min.',
    )
    expect(!parsed.ok && es.wrong(parsed.error)).toBe(
      'Se escribió 999; se acepta un número de 0 a 240 min.',
    )
  })

  test('that is wrong only beside another is said in Spanish too', () => {
    const data = { place: 'Booth door', ambientDb: 80, signalDb: 95 }
    const parsed = parseCommand({ id: 'c1', type: 'CommissionLevel', data })
    expect(!parsed.ok && es.wrong(parsed.error)).toBe(
      'No se escribió nada; se acepta sí por encima de 90 dB(A): solo lo que el taller firmó por escrito.',
    )
  })

  test('of a sheet that cannot be so is said in Spanish too', () => {
    const turned = { limits: { minC: 35, maxC: 15 } }
    const parsed = parseCommand({
      id: 'c1',
      type: 'SaveSheet',
      data: { sheet: { ...CLEAR, ...turned } },
    })
    expect(!parsed.ok && es.wrong(parsed.error)).toBe(
      'Se escribió 15; se acepta una temperatura desde minC (35 °C).',
    )
  })
})
