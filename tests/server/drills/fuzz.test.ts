import fc from 'fast-check'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { codeOf } from '../../../labels/cupLabel.ts'
import { cupLabelOf } from '../../../labels/fromState.ts'
import { encodeCupCode } from '../../../labels/payload.ts'
import type { Entry } from '../../../machines/envelope.ts'
import { verify } from '../../../server/log/chain.ts'
import { inPages, type Store } from '../../../server/log/log.ts'
import { drill, drillPatience } from '../../support/drill.ts'
import {
  hardText,
  hardValue,
  type Json,
  type Spoil,
  spoil,
  spoiled,
} from '../../support/hostile.ts'
import { dayOf, evenIntents } from '../../support/randomDay.ts'
import { CUP, JOB, vanInWork } from '../../support/serverCommands.ts'
import type { TestShop } from '../../support/serverShop.ts'
import { soundInputs } from '../../support/soundInputs.ts'
import { openWholeShop, removeAll } from '../../support/wholeShop.ts'

/**
 * Whatever is sent, to whatever address: no answer is a fault of the program, what is refused changes
 * nothing, and the log verifies.
 */

afterAll(removeAll)

/** Commands of every type, as kiosks send them on a day on which everything is done about as often. */
function corpusOf(seed: number): readonly Json[] {
  const [sampled = []] = fc.sample(evenIntents, { numRuns: 1, seed })
  const sent = dayOf(sampled).sent.map(({ command }): Json => JSON.parse(JSON.stringify(command)))
  return [...sent, ...vanInWork.map((one): Json => JSON.parse(JSON.stringify(one)))]
}

type Case =
  | {
      readonly kind: 'graft'
      readonly pick: number
      readonly other: number
      readonly keys: number
      readonly id: string
    }
  | {
      readonly kind: 'command'
      readonly pick: number
      /** Null: the id that it was first sent under. */
      readonly id: string | null
      readonly spoils: readonly Spoil[]
    }
  | { readonly kind: 'calc'; readonly pick: number; readonly spoils: readonly Spoil[] }
  | { readonly kind: 'list'; readonly picks: readonly number[]; readonly spoils: readonly Spoil[] }
  | { readonly kind: 'body'; readonly route: number; readonly text: string }
  | { readonly kind: 'json'; readonly route: number; readonly value: Json }
  | {
      readonly kind: 'get'
      readonly route: number
      readonly parts: readonly string[]
      readonly query: string
    }
  | { readonly kind: 'scan'; readonly at: number; readonly put: string }

const spoils = fc.array(spoil, { minLength: 1, maxLength: 3 })
const calculations = Object.entries(soundInputs)

const newId = fc.uuid().map((id) => id.slice(0, 36))
const anyCase: fc.Arbitrary<Case> = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({
      kind: fc.constant('graft' as const),
      pick: fc.nat(),
      other: fc.nat(),
      keys: fc.nat({ max: 255 }),
      id: newId,
    }),
  },
  {
    weight: 8,
    arbitrary: fc.record({
      kind: fc.constant('command' as const),
      pick: fc.nat(),
      id: fc.option(newId),
      spoils,
    }),
  },
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant('calc' as const), pick: fc.nat(), spoils }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      kind: fc.constant('list' as const),
      picks: fc.array(fc.nat(), { maxLength: 6 }),
      spoils,
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('body' as const), route: fc.nat(), text: hardText }),
  },
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant('json' as const), route: fc.nat(), value: hardValue }),
  },
  {
    weight: 4,
    arbitrary: fc.record({
      kind: fc.constant('get' as const),
      route: fc.nat(),
      parts: fc.array(
        fc.oneof(hardText, fc.constantFrom(CUP, JOB, 'cup', 'undo.svg', `${CUP}.png`)),
        {
          minLength: 2,
          maxLength: 2,
        },
      ),
      query: fc.oneof(
        hardText,
        fc.constantFrom('after=-1', 'limit=0', 'days=x', 'after=1:zz', 'as=packed'),
      ),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('scan' as const), at: fc.nat(), put: hardText }),
  },
)

/** Addresses of one method, each once; `/api/tail` has no end, and is asked in tests of its own. */
const pathsOf = ({ app }: TestShop, method: string): string[] => [
  ...new Set(
    app.routes
      .filter((route) => route.method === method && route.path !== '/api/tail')
      .map(({ path }) => path),
  ),
]

describe('over HTTP', { timeout: drillPatience }, () => {
  let shop: TestShop
  beforeAll(async () => {
    shop = await openWholeShop()
  })

  test('no fault, nothing changed by what is refused, a log that verifies', async () => {
    const { rounds, seed, count, done } = drill('requests', { small: 600, long: 15_000 })
    const corpus = corpusOf(seed)
    const [gets, posts] = [pathsOf(shop, 'GET'), pathsOf(shop, 'POST')]
    expect([gets.length > 8, posts.length > 4]).toEqual([true, true])
    // So that most of what the spoiled ones name is there.
    for (const one of corpus) await shop.post('/api/commands', one)
    const label = payloadOf(shop)
    expect(label).toContain(CUP)
    const asked = (one: Case): Request => requestOf(one, { corpus, gets, posts, label })
    await fc.assert(
      fc.asyncProperty(anyCase, async (one) => {
        shop.clock.advance(1_000)
        await atRest()
        const before = shop.shops.ownWriter.state()
        const request = asked(one)
        const response = await shop.app.request(request)
        const text = await response.text()
        count(String(response.status))
        expect({ status: response.status, text }).not.toMatchObject({ status: 500 })
        expect(shop.reports).toEqual([])
        const after = shop.shops.ownWriter.state()
        if (request.method === 'GET' || response.status !== 200) expect(after).toBe(before)
        else if (one.kind === 'list')
          expect(after.head - before.head).toBe(entriesIn(text, before.head))
      }),
      { numRuns: rounds, seed },
    )
    done({ entries: shop.shops.ownWriter.state().head })
    await verified(shop.store, shop.shops.own)
  })
})

/** What is evicted after an answer is no change by the next command. */
async function atRest(): Promise<void> {
  for (let turn = 0; turn < 3; turn += 1) await new Promise((done) => setImmediate(done))
}

/** How many entries a list's answers tell of that are behind a position: a first answer may be given again. */
function entriesIn(text: string, head: number): number {
  const answers = JSON.parse(text) as { status: number; body: { entries?: Entry[] } }[]
  const told = answers.flatMap(({ status, body }) => (status === 200 ? (body.entries ?? []) : []))
  return new Set(told.map(({ position }) => position).filter((one) => one > head)).size
}

async function verified(store: Store, shop: string): Promise<void> {
  expect(
    await verify(
      shop,
      inPages((page) => store.raw(shop, page)),
    ),
  ).toMatchObject({ ok: true })
}

/** What a scanner reads from the label of the cup. */
const payloadOf = ({ shops }: TestShop): string => {
  const label = cupLabelOf(shops.ownWriter.state(), CUP)
  return label ? encodeCupCode(codeOf(label)) : ''
}

type Known = {
  readonly corpus: readonly Json[]
  readonly gets: readonly string[]
  readonly posts: readonly string[]
  readonly label: string
}

const at = <T>(all: readonly T[], n: number): T => all[n % all.length] as T
const ORIGIN = 'http://127.0.0.1'
const POST = (path: string, body: string) =>
  new Request(`${ORIGIN}${path}`, { method: 'POST', body })

function requestOf(one: Case, { corpus, gets, posts, label }: Known): Request {
  switch (one.kind) {
    case 'command': {
      const sent = at(corpus, one.pick)
      const again: Json = one.id === null ? sent : { ...(sent as object), id: one.id }
      return POST('/api/commands', JSON.stringify(one.spoils.reduce(spoiled, again)))
    }
    case 'graft':
      return POST('/api/commands', JSON.stringify(grafted(one, corpus)))
    case 'calc': {
      const [name, input] = at(calculations, one.pick)
      const sound: Json = JSON.parse(JSON.stringify(input))
      return POST(`/api/calc/${name}`, JSON.stringify(one.spoils.reduce(spoiled, sound)))
    }
    case 'list': {
      const list: Json = one.picks.map((pick) => at(corpus, pick))
      return POST('/api/commands', JSON.stringify(one.spoils.reduce(spoiled, list)))
    }
    case 'body':
      return POST(pathIn(at(posts, one.route), [one.text, one.text]), one.text)
    case 'json':
      return POST(pathIn(at(posts, one.route), ['pour', 'x']), JSON.stringify(one.value))
    case 'get':
      return new Request(`${ORIGIN}${pathIn(at(gets, one.route), one.parts)}?${encoded(one.query)}`)
    case 'scan': {
      const spoiledText = `${label.slice(0, one.at % 40)}${one.put}`
      return new Request(`${ORIGIN}/api/scan/${encoded(spoiledText)}`)
    }
  }
}

/** A command with some of its fields from another: all of them plausible, together nonsense. */
function grafted(
  { pick, other, keys, id }: Case & { readonly kind: 'graft' },
  corpus: readonly Json[],
): object {
  const [base, from] = [at(corpus, pick), at(corpus, other)] as { data: object }[]
  const taken = Object.entries(from?.data ?? {}).filter((_, i) => (keys >> (i % 8)) & 1)
  return { ...base, id, data: { ...base?.data, ...Object.fromEntries(taken) } }
}

function pathIn(path: string, parts: readonly string[]): string {
  let next = 0
  return path.replace(/:[a-z]+|\*/g, () => encoded(parts[next++ % parts.length] ?? 'x'))
}

/** A lone surrogate has no percent encoding. */
const encoded = (text: string): string => encodeURIComponent(text.toWellFormed()).slice(0, 4_000)
