import fc from 'fast-check'
import type { CupCode } from '../../labels/code.ts'
import type { CupLabel, LabelPaper, LabelStyle } from '../../labels/layout.ts'
import { ID_ALPHABET } from '../../machines/accept.ts'

/** 2026-11-25T14:05Z, a Wednesday. */
export const MIXED_AT_MS = Date.UTC(2026, 10, 25, 14, 5)
export const minutes = (n: number) => n * 60_000
export const days = (n: number) => n * 86_400_000

/** The van's clear: two-part, with isocyanate, 45 min of pot life at 22 °C. */
export const CLEAR: CupLabel = {
  shopTag: 'K7F',
  cup: 'K7F3QABC',
  product: '2K clear, 2:1, slow',
  stage: 'clear',
  hasActivator: true,
  ratio: '2:1:0.5',
  by: 'volume',
  totalMl: 410,
  mixedAtMs: MIXED_AT_MS,
  useByMs: MIXED_AT_MS + minutes(45),
  keepUntilMs: null,
  potBasisC: 22,
  hazard: {
    signal: 'danger',
    isocyanate: true,
    pictograms: ['flame', 'exclamation', 'healthHazard'],
    words: ['Flammable'],
  },
  job: 'J7K3MABC',
  panel: 'Rear quarter, left',
  mixedBy: 'AB',
  copy: 0,
}

/** The van's base: no activator, kept for 90 days. */
export const BASE: CupLabel = {
  ...CLEAR,
  product: 'Solid base, van white',
  colourCode: 'WHITE 12',
  stage: 'base',
  hasActivator: false,
  ratio: '2:1',
  useByMs: null,
  keepUntilMs: MIXED_AT_MS + days(90),
  potBasisC: null,
  hazard: {
    signal: 'warning',
    isocyanate: false,
    pictograms: ['flame', 'exclamation'],
    words: ['Flammable', 'Drowsiness'],
  },
  job: null,
}

export const MADRID: LabelStyle = {
  language: 'en',
  timeZone: 'Europe/Madrid',
  clock: '24h',
  temperature: 'C',
  volume: 'mL',
}
export const CHICAGO: LabelStyle = {
  language: 'en',
  timeZone: 'America/Chicago',
  clock: '12h',
  temperature: 'F',
  volume: 'flOz',
}

export const id = (length: number) =>
  fc
    .array(fc.constantFrom(...ID_ALPHABET), { minLength: length, maxLength: length })
    .map((signs) => signs.join(''))

const name = (maxLength: number) =>
  fc.oneof(
    fc.string({ maxLength }),
    fc.string({ maxLength, unit: 'grapheme' }),
    fc.string({ maxLength, unit: fc.constantFrom('W', 'Ñ', 'Å', 'Ç', '(', ',', 'Q', ' ', '1') }),
  )

const signal = fc.constantFrom('danger' as const, 'warning' as const, 'none' as const)
const pictograms = fc.subarray(['flame' as const, 'exclamation' as const, 'healthHazard' as const])
const hazard = fc.oneof(
  fc.record({
    signal,
    isocyanate: fc.boolean(),
    pictograms,
    words: fc.array(name(40), { maxLength: 6 }),
  }),
  fc.constant({ signal: 'missing' as const, isocyanate: false, pictograms: [], words: [] }),
)

/** What a sheet and a bench may bring, short ratios as well as absurd ones. */
const ratio = fc.constantFrom(
  '1',
  '2:1',
  '2:1:0.5',
  '4:1:0.5:0.05',
  '4:1+10%',
  '100:50+12.5%',
  '3:1.25:0.75',
  '12:7:3.5:2.25:1+10%+12.5%',
  '4:1:0.30000000000000004',
)

type Times = Pick<CupLabel, 'mixedAtMs' | 'useByMs' | 'keepUntilMs'>
const mixedAtMs = fc.integer({ min: Date.UTC(2020, 0, 1), max: Date.UTC(2080, 0, 1) })
const times: fc.Arbitrary<Times> = fc
  .tuple(mixedAtMs, fc.integer({ min: 0, max: days(20) }), fc.constantFrom('pot', 'keep', 'none'))
  .map(([mixed, after, kind]) => ({
    mixedAtMs: mixed,
    useByMs: kind === 'pot' ? mixed + after : null,
    keepUntilMs: kind === 'keep' ? mixed + 10 * after : null,
  }))

const stage = fc.constantFrom(
  'base' as const,
  'clear' as const,
  'primer' as const,
  'polish' as const,
)
const by = fc.constantFrom('volume' as const, 'mass' as const)

export const anyLabel: fc.Arbitrary<CupLabel> = fc
  .record({
    shopTag: id(3),
    cup: fc.oneof(id(8), fc.constantFrom('WWWWWWWW', 'QQQQQQQQ')),
    product: name(60),
    colourCode: name(30),
    stage,
    hasActivator: fc.boolean(),
    ratio,
    by,
    totalMl: fc.double({ min: 0.1, max: 20_000, noNaN: true }),
    potBasisC: fc.option(fc.double({ min: -10, max: 45, noNaN: true })),
    hazard,
    job: fc.option(id(8)),
    panel: name(50),
    mixedBy: name(20),
    copy: fc.integer({ min: 0, max: 120 }),
  })
  .chain((label) => times.map((when) => ({ ...label, ...when })))

export const anyCode: fc.Arbitrary<CupCode> = fc
  .record({
    shopTag: id(3),
    cup: id(8),
    job: fc.option(id(8)),
    stage,
    hasActivator: fc.boolean(),
    ratio,
    by,
    hazard: fc.record({ signal, isocyanate: fc.boolean(), pictograms }),
  })
  .chain((code) => times.map((when) => ({ ...code, ...when })))

export const anyStyle: fc.Arbitrary<LabelStyle> = fc.record({
  language: fc.constantFrom('en' as const, 'es' as const),
  timeZone: fc.constantFrom('America/Chicago', 'Europe/Madrid', 'Australia/Lord_Howe', 'UTC'),
  clock: fc.constantFrom('24h' as const, '12h' as const),
  temperature: fc.constantFrom('C' as const, 'F' as const),
  volume: fc.constantFrom('mL' as const, 'flOz' as const),
})

export const paper = (dpi: 203 | 300, widthMm = 57, heightMm = 32): LabelPaper => ({
  stock: { widthMm, heightMm },
  dpi,
})

export const anyPaper: fc.Arbitrary<LabelPaper> = fc
  .tuple(
    fc.constantFrom(203 as const, 300 as const),
    fc.oneof(
      fc.constantFrom([57, 32] as const, [62, 40] as const),
      fc.tuple(
        fc.double({ min: 57, max: 110, noNaN: true }),
        fc.double({ min: 32, max: 160, noNaN: true }),
      ),
    ),
  )
  .map(([dpi, [widthMm, heightMm]]) => paper(dpi, widthMm, heightMm))
