import fc from 'fast-check'

/** What somebody, or some program, might send that no kiosk ever does. */

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json }

/** Texts that are hard to read, or mean something to some program. */
const HARD_TEXTS = [
  ...['', ' ', '0', '-1', '1e309', 'NaN', 'null', 'true', '%', '%00', '..', '../../etc/passwd'],
  ...[
    '\u0000',
    '\ud800',
    '\u202e',
    '\u2028',
    'é',
    'e\u0301',
    '\u{1f3a8}',
    "'; DROP TABLE entry; --",
  ],
  ...[
    '__proto__',
    'constructor',
    'toString',
    'hasOwnProperty',
    'K7QDM2XV',
    'booth',
    'x'.repeat(5_000),
  ],
]
const HARD_NUMBERS = [
  0,
  -0,
  -1,
  0.1,
  1e-300,
  1e308,
  -1e308,
  2 ** 53,
  2 ** 31,
  1_577_836_800_000,
  8.64e15 + 1,
]

export const hardText: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(...HARD_TEXTS),
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.string({ maxLength: 60 }),
)

export const hardValue: fc.Arbitrary<Json> = fc.oneof(
  { weight: 3, arbitrary: hardText },
  { weight: 3, arbitrary: fc.constantFrom(...HARD_NUMBERS) },
  {
    weight: 2,
    arbitrary: fc.constantFrom<Json>(null, true, false, [], {}, [[]], [null], { a: {} }),
  },
  {
    weight: 1,
    arbitrary: fc
      .jsonValue({ maxDepth: 3 })
      .map((value): Json => JSON.parse(JSON.stringify(value))),
  },
)

/** One place of a value, by numbers that are taken modulo what is there, and what is put in it. */
export type Spoil = {
  readonly path: readonly number[]
  readonly how: 'replace' | 'remove' | 'add' | 'double'
  readonly value: Json
  readonly key: string
}

export const spoil: fc.Arbitrary<Spoil> = fc.record({
  path: fc.array(fc.nat({ max: 50 }), { maxLength: 5 }),
  how: fc.constantFrom(
    'replace' as const,
    'replace' as const,
    'remove' as const,
    'add' as const,
    'double' as const,
  ),
  value: hardValue,
  key: fc.oneof(
    hardText,
    fc.constantFrom('at', 'id', 'type', 'data', 'panels', 'override', 'colour'),
  ),
})

/** A value with one place spoiled. */
export function spoiled(value: Json, { path, how, value: other, key }: Spoil): Json {
  const [step, ...rest] = path
  if (step === undefined) return how === 'replace' ? other : into(value, { how, other, key, at: 0 })
  if (value === null || typeof value !== 'object') return other
  const keys = Object.keys(value)
  const at = keys.length === 0 ? 0 : step % keys.length
  if (rest.length === 0 || keys.length === 0) return into(value, { how, other, key, at })
  return withAt(value, at, (inner) => spoiled(inner, { path: rest, how, value: other, key }))
}

type Into = {
  readonly how: Spoil['how']
  readonly other: Json
  readonly key: string
  readonly at: number
}

function into(value: Json, { how, other, key, at }: Into): Json {
  if (value === null || typeof value !== 'object') return other
  if (how === 'replace') return withAt(value, at, () => other)
  const isList = Array.isArray(value)
  const parts: [string, Json][] = Object.entries(value)
  if (how === 'remove') parts.splice(at, 1)
  if (how === 'add') parts.push([key, other])
  const twice = parts[at]
  if (how === 'double' && twice) parts.push([`${twice[0]}2`, twice[1]])
  return isList ? parts.map(([, part]) => part) : Object.fromEntries(parts)
}

function withAt(value: Json, at: number, change: (inner: Json) => Json): Json {
  if (value === null || typeof value !== 'object') return value
  const parts = Object.entries(value).map(([key, inner]: [string, Json], i): [string, Json] => [
    key,
    i === at ? change(inner) : inner,
  ])
  return Array.isArray(value) ? parts.map(([, part]) => part) : Object.fromEntries(parts)
}

export type { Json }
