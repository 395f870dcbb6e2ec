import { describe, expect, test } from 'vitest'
import { THING_KEYS } from '../../machines/envelope.ts'
import { emptyHead, seal, verify } from '../../server/log/chain.ts'
import { inPages, LogError, type Store } from '../../server/log/log.ts'
import { type Content, entriesAfter, everyField, firstEntries } from '../support/logEntries.ts'

/** A fresh, empty store for one test. */
export type Subject = {
  readonly store: Store
  /** Makes the next commit fail. */
  readonly breakNextCommit: () => void
  /** Lets commits pass again. */
  readonly mend?: () => void
  /** Called when the test is over. */
  readonly remove: () => Promise<void>
}

/** What every store promises (server/log/log.ts). A store that is not asked here is not used. */
export function eventLogContract(name: string, open: () => Promise<Subject>): void {
  const keeps = (promise: string, proof: (subject: Subject) => Promise<void>) =>
    test(promise, async () => {
      const subject = await open()
      try {
        await proof(subject)
      } finally {
        await subject.remove()
      }
    })

  describe(`the event log, ${name}`, () => {
    keeps('a shop that has done nothing yet has an empty log', async ({ store }) => {
      expect(await store.head('S1')).toEqual(emptyHead('S1'))
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual([])
      expect(await store.byCommand('S1', 'c1')).toEqual([])
      expect(await store.byThing('S1', 'cup', 'CCCC2222')).toEqual([])
      expect(await store.byType('S1', 'NoteAdded', { fromAt: 0, toAt: 9e15 })).toEqual([])
      expect(await store.byId('S1', 'c1.0')).toBeNull()
      expect(await store.voidsOf('S1', ['c1.0'])).toEqual([])
      expect(await store.shops()).toEqual([])
    })

    keeps('what was done comes back in order, and the head follows', async ({ store }) => {
      const entries = firstEntries('S1', [{}, {}, {}])
      expect(await store.append('S1', 0, entries)).toBe('done')
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(entries)
      const last = entries[2]
      expect(await store.head('S1')).toEqual({
        position: 3,
        hash: last?.hash,
        recordedAt: last?.recordedAt,
      })
    })

    keeps('every field of an entry comes back as it was written', async ({ store }) => {
      const [entry] = firstEntries('S1', [everyField])
      if (!entry) throw new Error('no entry')
      await store.append('S1', 0, [entry])
      expect(await store.byId('S1', 'pass-9.3')).toStrictEqual(entry)
      const [row] = await store.raw('S1', { after: 0, limit: 1 })
      const { id, command, type, at, recordedAt, job, panel, cup, gun, zone, sheet } = everyField
      expect(row?.columns).toStrictEqual({
        ...{ id, command, type, at, recordedAt },
        ...{ job, panel, cup, gun, zone, sheet },
      })
      expect({ ...JSON.parse(row?.text ?? ''), hash: row?.hash }).toStrictEqual(entry)
    })

    keeps('two shops do not see each other', async ({ store }) => {
      const ours = firstEntries('S1', [{ command: 'same', cup: 'CCCC2222' }])
      const theirs = firstEntries('S2', [{ command: 'same', cup: 'CCCC2222' }, {}])
      await store.append('S2', 0, theirs)
      await store.append('S1', 0, ours)
      expect(await store.shops()).toEqual(['S1', 'S2'])
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(ours)
      expect(await store.read('S2', { after: 0, limit: 10 })).toEqual(theirs)
      expect(await store.byCommand('S1', 'same')).toEqual(ours)
      expect(await store.byThing('S2', 'cup', 'CCCC2222')).toEqual(theirs.slice(0, 1))
      expect(await store.byId('S2', 'same.0')).toEqual(theirs[0])
      expect((await store.head('S1')).position).toBe(1)
    })

    keeps('an append at a head that has moved on writes nothing', async ({ store }) => {
      const first = firstEntries('S1', [{}, {}])
      await store.append('S1', 0, first)
      const stale = firstEntries('S1', [{ command: 'late' }])
      expect(await store.append('S1', 0, stale)).toBe('moved')
      const ahead = entriesAfter('S1', { ...(await store.head('S1')), position: 7 }, [{}])
      expect(await store.append('S1', 7, ahead)).toBe('moved')
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(first)
    })

    keeps('of two appends that race for one place, one is done', async ({ store }) => {
      const mine = firstEntries('S1', [{ command: 'mine' }, {}])
      const yours = firstEntries('S1', [{ command: 'yours' }, {}])
      const answers = await Promise.all([store.append('S1', 0, mine), store.append('S1', 0, yours)])
      expect([...answers].sort()).toEqual(['done', 'moved'])
      const winner = answers[0] === 'done' ? mine : yours
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(winner)
    })

    keeps('a group with an id that is taken is refused whole', async ({ store }) => {
      const first = firstEntries('S1', [{ command: 'once' }])
      await store.append('S1', 0, first)
      const head = await store.head('S1')
      const again = entriesAfter('S1', head, [{}, { command: 'once' }, {}])
      await expect(store.append('S1', 1, again)).rejects.toMatchObject({ code: 'program' })
      const twins = entriesAfter('S1', head, [{ command: 'twin' }, { command: 'twin' }])
      await expect(store.append('S1', 1, twins)).rejects.toBeInstanceOf(LogError)
      expect(await store.head('S1')).toEqual(head)
      expect(await store.read('S1', { after: 0, limit: 10 })).toEqual(first)
      expect(await store.append('S1', 1, entriesAfter('S1', head, [{}]))).toBe('done')
    })

    keeps('entries that do not follow each other or the head are refused', async ({ store }) => {
      await store.append('S1', 0, firstEntries('S1', [{}]))
      const head = await store.head('S1')
      const [a, b, c] = entriesAfter('S1', head, [{}, {}, {}])
      if (!a || !b || !c) throw new Error('no entries')
      const unchained = seal('S1', 'f'.repeat(64), a)
      const edited = { ...a, data: { note: 'other words' } }
      const early = entriesAfter('S1', head, [{ recordedAt: head.recordedAt - 1 }])
      for (const wrong of [
        [b],
        [a, c],
        [a, a],
        [unchained],
        [a, seal('S1', head.hash, b)],
        [edited],
        early,
      ])
        await expect(store.append('S1', 1, wrong)).rejects.toMatchObject({
          name: 'LogError',
          op: 'append',
          shop: 'S1',
          code: 'program',
        })
      await expect(store.append('S2', 1, [a])).rejects.toMatchObject({ code: 'program' })
      expect(await store.head('S1')).toEqual(head)
      expect(await store.append('S1', 1, [a, b, c])).toBe('done')
    })

    keeps('an append of nothing changes nothing', async ({ store }) => {
      expect(await store.append('S1', 0, [])).toBe('done')
      expect(await store.append('S1', 3, [])).toBe('moved')
      expect(await store.shops()).toEqual([])
    })

    keeps('all entries of a command are found by it', async ({ store }) => {
      const all = 'pas pass2 pass.0 pass.x pass/ Pass'.split(' ').concat(Array(12).fill('pass'))
      const made = all.map((command, i): Content => ({ command, id: `${command}.${i}` }))
      await store.append('S1', 0, firstEntries('S1', made))
      expect(await store.byCommand('S1', 'pass')).toEqual(firstEntries('S1', made).slice(6))
    })

    keeps('whatever names a thing is found by it, and nothing else', async ({ store }) => {
      const contents = THING_KEYS.map((key): Content => ({ [key]: 'X', job: 'JJJJ2222' }))
      const entries = firstEntries('S1', [...contents, {}, everyField])
      await store.append('S1', 0, entries)
      for (const [i, key] of THING_KEYS.entries())
        if (key !== 'job') expect(await store.byThing('S1', key, 'X')).toEqual([entries[i]])
      expect(await store.byThing('S1', 'job', 'X')).toEqual([])
      expect(await store.byThing('S1', 'job', 'JJJJ2222')).toEqual([
        ...entries.slice(0, 6),
        entries[7],
      ])
    })

    keeps('the readings of a zone are found between two instants', async ({ store }) => {
      const at = (ms: number): Content => ({ zone: 'booth', at: 1_780_000_000_000 + ms })
      // Recorded in another order than they happened: a kiosk that had been offline.
      const entries = firstEntries('S1', [at(30), at(10), at(20), { zone: 'bench' }, at(40)])
      await store.append('S1', 0, entries)
      const between = { fromAt: 1_780_000_000_010, toAt: 1_780_000_000_030 }
      expect(await store.byThing('S1', 'zone', 'booth', between)).toEqual(entries.slice(0, 3))
    })

    keeps('what is of one type is found between two instants', async ({ store }) => {
      const at = (ms: number, type = 'BellRang'): Content => ({ type, at: 1_780_000_000_000 + ms })
      const entries = firstEntries('S1', [at(30), at(10), at(15, 'BellSnoozed'), at(20), at(40)])
      await store.append('S1', 0, entries)
      await store.append('S2', 0, firstEntries('S2', [at(20)]))
      const between = { fromAt: 1_780_000_000_010, toAt: 1_780_000_000_030 }
      const [a, b, snoozed, c] = entries
      expect(await store.byType('S1', 'BellRang', between)).toEqual([a, b, c])
      expect(await store.byType('S1', 'BellSnoozed', between)).toEqual([snoozed])
      expect(await store.byType('S1', 'Bell', between)).toEqual([])
    })

    keeps('what voids some entries is found by their ids', async ({ store }) => {
      const voids = (entry: string): Content => ({ type: 'EntryVoided', data: { entry } })
      const notVoid = { data: { entry: 'c1.0' } }
      const entries = firstEntries('S1', [{}, voids('c1.0'), notVoid, voids('c9.0'), voids('c1.0')])
      await store.append('S1', 0, entries)
      await store.append('S2', 0, firstEntries('S2', [voids('c1.0')]))
      const [, first, , other, second] = entries
      expect(await store.voidsOf('S1', ['c1.0', 'c1.0'])).toEqual([first, second])
      expect(await store.voidsOf('S1', ['c9.0', 'c1.0'])).toEqual([first, other, second])
      expect(await store.voidsOf('S1', ['c1'])).toEqual([])
    })

    keeps('a log is read page by page, each entry once', async ({ store }) => {
      const entries = firstEntries(
        'S1',
        Array.from({ length: 7 }, () => ({})),
      )
      await store.append('S1', 0, entries)
      expect(await store.read('S1', { after: 2, limit: 3 })).toEqual(entries.slice(2, 5))
      expect(await store.read('S1', { after: 7, limit: 3 })).toEqual([])
      for (const limit of [1, 3, 7, 8]) {
        const paged = inPages((page) => store.read('S1', page), { limit })
        expect(await Array.fromAsync(paged)).toEqual(entries)
      }
      for (const page of [
        { after: 0, limit: 0 },
        { after: 0, limit: -1 },
        { after: 0.5, limit: 1 },
      ])
        await expect(store.read('S1', page)).rejects.toMatchObject({ op: 'read', code: 'program' })
    })

    keeps('the chain of what was written holds', async ({ store }) => {
      await store.append('S1', 0, firstEntries('S1', [{}, everyField]))
      const head = await store.head('S1')
      await store.append('S1', 2, entriesAfter('S1', head, [{}, {}, {}]))
      const verdict = await verify(
        'S1',
        inPages((page) => store.raw('S1', page), { limit: 2 }),
      )
      expect(verdict).toEqual({ ok: true, head: await store.head('S1') })
    })

    keeps('a snapshot is kept for each shop and each version of the fold', async ({ store }) => {
      await store.putSnapshot('S1', 'fold-1', 3, '{"jobs":[]}')
      await store.putSnapshot('S1', 'fold-2', 5, '{"jobs":{}}')
      await store.putSnapshot('S1', 'fold-1', 4, '{"jobs":[1]}')
      expect(await store.getSnapshot('S1', 'fold-1')).toEqual({ position: 4, json: '{"jobs":[1]}' })
      expect(await store.getSnapshot('S1', 'fold-2')).toEqual({ position: 5, json: '{"jobs":{}}' })
      expect(await store.getSnapshot('S1', 'fold-3')).toBeNull()
      expect(await store.getSnapshot('S2', 'fold-1')).toBeNull()
    })

    keeps('a note beside the log is kept until it is written again', async ({ store }) => {
      expect(await store.getMeta('shop')).toBeNull()
      await store.putMeta('shop', 'S1')
      await store.putMeta('shop', 'S2')
      expect(await store.getMeta('shop')).toBe('S2')
    })

    keeps('a closed log says so instead of answering', async ({ store }) => {
      await store.append('S1', 0, firstEntries('S1', [{}]))
      await store.close()
      const calls = [
        store.head('S1'),
        store.append('S1', 1, []),
        store.read('S1', { after: 0, limit: 1 }),
        store.raw('S1', { after: 0, limit: 1 }),
        store.byCommand('S1', 'c1'),
        store.byThing('S1', 'cup', 'X'),
        store.byType('S1', 'NoteAdded', { fromAt: 0, toAt: 1 }),
        store.byId('S1', 'c1.0'),
        store.voidsOf('S1', ['c1.0']),
        store.shops(),
        store.getSnapshot('S1', 'fold-1'),
        store.putSnapshot('S1', 'fold-1', 1, '{}'),
        store.getMeta('shop'),
        store.putMeta('shop', 'S1'),
      ]
      for (const call of await Promise.allSettled(calls))
        expect(call).toMatchObject({ status: 'rejected', reason: { code: 'closed' } })
      await store.close()
    })

    keeps(
      'a commit that fails leaves the log as it was, and the next one passes',
      async (subject) => {
        const { store, breakNextCommit, mend } = subject
        await store.append('S1', 0, firstEntries('S1', [{}]))
        const head = await store.head('S1')
        const group = entriesAfter('S1', head, [{ cup: 'CCCC2222' }, {}])
        breakNextCommit()
        const failure = await store.append('S1', 1, group).catch((error: unknown) => error)
        expect(failure).toBeInstanceOf(LogError)
        expect(failure).toMatchObject({
          op: 'append',
          shop: 'S1',
          hint: expect.stringMatching(/\w.*\.$/),
        })
        mend?.()
        expect(await store.head('S1')).toEqual(head)
        expect(await store.byThing('S1', 'cup', 'CCCC2222')).toEqual([])
        expect(await store.append('S1', 1, group)).toBe('done')
        const verdict = await verify(
          'S1',
          inPages((page) => store.raw('S1', page)),
        )
        expect(verdict).toMatchObject({ ok: true, head: { position: 3 } })
      },
    )
  })
}
