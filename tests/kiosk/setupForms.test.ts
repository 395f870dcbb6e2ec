import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  blank,
  changed,
  heldAt,
  idFrom,
  pointsIn,
  read,
  shownIn,
  written,
} from '../../kiosk/forms/draft.ts'
import type { Draft, Fields, Spec } from '../../kiosk/forms/spec.ts'
import { SHEET } from '../../kiosk/setup/forms.ts'
import { check } from '../../machines/accept.ts'
import { sheetSchema } from '../../machines/sheet/sheetSchema.ts'
import type { Settings } from '../../machines/shop/settingsSchema.ts'
import { BASE, CLEAR, SEALER } from '../support/sheets.ts'
import { put, type Typed } from '../support/typed.ts'

const SI: Settings['units'] = {}
const US: Settings['units'] = { temperature: 'F', volume: 'flOz', pressure: 'psi' }
const FORM: Spec = { kind: 'group', fields: SHEET }

/** A sheet in which every field that the schema knows is given. */
const points = [
  { atC: 10, minutes: 90 },
  { atC: 23.4, minutes: 37.5 },
]
const cure = {
  air: points,
  bake: [{ tempC: 60, minutes: 30, basis: 'part', flashBefore: points }],
  infrared: { minutes: 12, halfMin: 4, distanceCm: 80, flashBefore: 5 },
}
const option = {
  name: 'slow',
  fromC: 22.2,
  toC: 35,
  potLife: null,
  flashBetween: points,
  flashBeforeNext: points,
  cure,
}
const FULL = {
  ...CLEAR,
  edition: '3',
  flashByKind: { full: 'matte', light: points, drop: 'intoWet', blend: points, withinMin: 4 },
  keepDaysReduced: 3,
  forcedDry: { minutes: 4 },
  rhRef: 0.45,
  components: [
    {
      name: 'clear',
      role: 'base',
      parts: 2,
      densityGPerMl: 1,
      volatile: 0.5,
      water: 0,
      exempt: 0.1,
    },
  ],
  ratioTolerance: 0.03,
  keepDays: 30,
  induction: points,
  flashBy: 'appearance',
  floorMin: 2,
  matteOnly: true,
  recoatWithin: points,
  afterWindow: 'reapply',
  recoatAgainAfter: points,
  clearWithinFromFirstCoat: points,
  prepFor: [{ over: 'base', gritMin: 800, gritMax: 1000, pads: ['gray'] }],
  over: [{ stage: 'sealer', flashBeforeNext: points, recoatWithin: 'unlimited' }],
  cure,
  maxFilmUm: 90,
  viscosity: { cup: 'ISO 4', seconds: 18 },
  strainUm: 190,
  grit: 800,
  gun: { ...CLEAR.gun, turns: 2.5 },
  activators: [option],
  reducers: [option],
  additives: [{ ...option, potLifeFactor: 0.5 }],
  recoatAfterBake: points,
  heavyCoat: { flashBetween: points, flashBeforeNext: points },
  ready: { dustFree: points, handle: points, tape: 60, sand: points, polish: points },
  finish: 'matte',
}

/** A film that must be sanded has no band after which it may be coated again. */
const { recoatAgainAfter: _, ...noBand } = FULL
const SANDED = { ...noBand, recoatWithin: 'mustSand' }

/** A sheet's form with something typed into it. */
const typedOver = (form: Draft, typed: Typed, units: Settings['units'] = SI) =>
  Object.entries(typed).reduce(
    (to, [path, text]) => put(FORM, to, path.split('.'), text, units),
    form,
  )

const throughForm = (sheet: unknown) => {
  const kept = check(sheetSchema, sheet)
  if (!kept.ok) throw new Error(JSON.stringify(kept.error))
  const form = written(FORM, kept.value)
  return { kept: kept.value, back: check(sheetSchema, read(FORM, form)) }
}

describe('a sheet in a form', () => {
  test.each([
    ['a solvent base', BASE],
    ['a 2K clear', CLEAR],
    ['a sealer', SEALER],
    ['one with every field', FULL],
    ['one that must be sanded', SANDED],
  ])('%s comes out as it went in', (_, sheet) => {
    const { kept, back } = throughForm(sheet)
    expect(back.ok && back.value).toEqual(kept)
  })

  test('asks for every field of the schema that is typed', () => {
    const asked = (spec: Spec): unknown =>
      spec.kind === 'group'
        ? Object.fromEntries(Object.entries(spec.fields).map(([k, f]) => [k, asked(f.spec)]))
        : spec.kind === 'list'
          ? asked(spec.item)
          : spec.kind
    const names = (entries: object) => Object.keys(entries).sort()
    // That a sheet is a sample is taken back on its page, not typed; of parts no percentage is read.
    const { sample: _, percentOf: __, ...typed } = sheetSchema.entries
    expect(names(SHEET)).toEqual(names(typed))
    expect(names(asked(FORM) as object)).toEqual(names(FULL))
  })

  test('the flash before heat is asked for: left empty it is missing, and not zero', () => {
    const { cure: _, ...uncured } = CLEAR
    const typed = (heat: Typed) => {
      const form = typedOver(written(FORM, { ...uncured, cure: { bake: [{}] } }), heat)
      return check(sheetSchema, read(FORM, form))
    }
    const bake = { 'cure.bake.0.tempC': '60', 'cure.bake.0.minutes': '30' }
    const empty = typed(bake)
    expect(!empty.ok && empty.errors.map(({ field }) => field)).toEqual(
      expect.arrayContaining(['cure.bake.0.flashBefore.0.minutes']),
    )
    const lamp = typed({ 'cure.infrared.minutes': '12' })
    expect(!lamp.ok && lamp.errors.map(({ field }) => field)).toEqual(
      expect.arrayContaining(['cure.infrared.flashBefore.0.minutes']),
    )
    const flash = 'cure.bake.0.flashBefore.0'
    const zero = typed({ ...bake, [`${flash}.minutes`]: '0', [`${flash}.atC`]: '20' })
    expect(!zero.ok && zero.errors.map(({ field }) => field)).toEqual(['cure.bake.0.basis'])
  })

  test('what was not touched keeps every digit', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -9.9, max: 89, noNaN: true }),
        fc.double({ min: 101, max: 1_499, noNaN: true }),
        (atC, inletKpa) => {
          const sheet = {
            ...CLEAR,
            flashBetween: [{ atC, minutes: 10 }],
            gun: { ...CLEAR.gun, inletKpa },
          }
          const { back } = throughForm(sheet)
          expect(back.ok && back.value.flashBetween).toEqual([{ atC, minutes: 10 }])
          expect(back.ok && back.value.gun?.inletKpa).toBe(inletKpa)
        },
      ),
    )
  })

  test('what was touched is read in the shop’s units', () => {
    const kept = check(sheetSchema, CLEAR)
    if (!kept.ok) throw new Error()
    const typed = { 'limits.minC': '59', 'gun.inletKpa': '30', 'flashBetween.0.minutes': '7,5' }
    const form = typedOver(written(FORM, kept.value), typed, US)
    const back = check(sheetSchema, read(FORM, form))
    expect(back.ok && back.value.limits.minC).toBe(15)
    expect(back.ok && back.value.gun?.inletKpa).toBeCloseTo(206.843, 2)
    expect(back.ok && back.value.flashBetween).toEqual([{ atC: 20, minutes: 7.5 }])
  })

  test('a form begun in °C and bar goes on in °F and psi where the shop changes its units', () => {
    const form = typedOver(blank(FORM), { 'limits.minC': '15', 'gun.inletKpa': '2' })
    const { limits, gun } = SHEET
    if (limits?.spec.kind !== 'group' || gun?.spec.kind !== 'group') throw new Error()
    const { minC } = limits.spec.fields
    const { inletKpa } = gun.spec.fields
    const given = form as Record<string, Record<string, Draft>>
    expect(minC && shownIn(minC.spec, given.limits?.minC ?? '', US)).toBe('59')
    expect(inletKpa && shownIn(inletKpa.spec, given.gun?.inletKpa ?? '', US)).toBe('29')
  })

  test('an impossible value is explained by the schema’s own sentence, with what was typed', () => {
    const form = typedOver(written(FORM, CLEAR), { 'components.0.parts': 'two' })
    const back = check(sheetSchema, read(FORM, form))
    expect(back).toMatchObject({
      ok: false,
      error: { field: 'components.0.parts', params: { given: '"two"' } },
    })
    const empty = check(sheetSchema, read(FORM, blank(FORM)))
    expect(empty.ok).toBe(false)
  })

  test('a viscosity or words of another shape than the form asks for stay until they are typed over', () => {
    const sheet = {
      ...CLEAR,
      viscosity: '18 s ISO 4',
      hazards: { signal: 'WARNING', pictograms: [], isocyanate: true, words: ['one', 'two'] },
    }
    const kept = check(sheetSchema, sheet)
    if (!kept.ok) throw new Error(JSON.stringify(kept.error))
    const form = typedOver(written(FORM, kept.value), { name: 'Another name' })
    const back = check(sheetSchema, read(FORM, form))
    expect(back.ok && back.value).toEqual({ ...kept.value, name: 'Another name' })
  })

  test('a removed row leaves the others with every digit', () => {
    const twoPoints = [
      { atC: 10, minutes: 30 },
      { atC: 20.123456, minutes: 10 },
    ]
    const form = written(FORM, { ...CLEAR, flashBetween: twoPoints })
    const { points: rows } = pointsIn((form as Record<string, Draft>).flashBetween ?? '')
    const fewer = changed(form, ['flashBetween', 'points'], rows.slice(1))
    const back = read(FORM, fewer)
    expect(back).toMatchObject({ flashBetween: [{ atC: 20.123456, minutes: 10 }] })
  })

  test('what stands at a field is found by the path that the schema names', () => {
    const form = written(FORM, FULL)
    expect(heldAt(form, 'components.0.parts')).toBe(2)
    expect(heldAt(form, 'flashBetween.0.minutes')).toBe(CLEAR.flashBetween[0]?.minutes)
    expect(heldAt(form, 'activators.0.cure.infrared.flashBefore.0.minutes')).toBe(5)
    expect(heldAt(form, 'gun')).toBe(heldAt(form, 'gun'))
    expect(heldAt(form, 'components.7.parts')).toBe('')
  })

  test('an optional group with nothing in it is left out, one begun is judged whole', () => {
    const fields: Fields = SHEET
    const form = written(FORM, { ...BASE, gun: undefined })
    expect(fields.gun?.optional).toBe(true)
    expect(read(FORM, form)).not.toHaveProperty('gun')
    const begun = typedOver(form, { 'gun.needleMm': '1.3' })
    expect(check(sheetSchema, read(FORM, begun))).toMatchObject({
      ok: false,
      error: { field: 'gun.inletKpa' },
    })
  })
})

test('an id is made of a name, and never one that is taken', () => {
  expect(idFrom('2K Clear, 2:1', [])).toBe('2k-clear-2-1')
  expect(idFrom('Imprimación gris', [])).toBe('imprimacion-gris')
  expect(idFrom('Gun', ['gun', 'gun-2'])).toBe('gun-3')
  expect(idFrom('¿?', [])).toBe('item')
  expect(idFrom('x'.repeat(60), [])).toHaveLength(36)
})
