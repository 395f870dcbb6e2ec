import { describe, expect, test } from 'vitest'
import { type Part, type PartName, partsOf } from '../../kiosk/setup/watchingParts.ts'
import { formatOf } from '../../kiosk/units/format.ts'
import { es as palabras } from '../../kiosk/words/all.es.ts'
import { en as words } from '../../kiosk/words/all.ts'
import type { Words } from '../../kiosk/words/en.ts'
import { en, es } from '../../kiosk/words/watching.ts'
import { type BackupsAnswer, KEEP } from '../../machines/contract/backup.ts'
import type { WatchingAnswer } from '../../machines/contract/watching.ts'
import { Shop } from '../support/shop.ts'

/** What Setup's page says of log, disk, backup, clock, kiosks and labels, and what to do about each. */

const NOW = Date.UTC(2026, 0, 5, 14, 20)
const MINUTE = 60_000
const DAY = 24 * 60 * MINUTE

/** The one-man garage on its first day. */
const FIRST_DAY: WatchingAnswer = {
  nowMs: NOW,
  log: { entries: 1, loss: null, check: { lastMs: null, isRunning: false } },
  disk: { trouble: null, freeMb: 12_340 },
  backup: {
    ...{ schedule: null, lastDone: null, lastFailed: null, nextMs: null, running: null },
    isSameDisk: false,
  },
  clock: { doubt: null, wallMs: NOW + 40, era: 1 },
  kiosks: [],
  label: null,
}

const BACKED_UP: BackupsAnswer = {
  schedule: { folder: '/media/stick', hour: 3, keep: KEEP },
  lastDone: { atMs: NOW - 11 * 60 * MINUTE, path: '/media/stick/b1', head: 40, missing: 0 },
  lastFailed: null,
  nextMs: NOW + 13 * 60 * MINUTE,
  running: null,
  isSameDisk: false,
}

function shop() {
  const made = new Shop()
  made.do('SaveZone', { zone: 'z-1', name: 'Spray booth' })
  return made.state
}
const TELLING = {
  ...{
    say: en,
    words,
    format: formatOf({ timeZone: 'UTC' }),
    state: shop(),
    device: 'DEVICEAAAAAAK7QX',
  },
}
const part = (name: PartName, more: Partial<WatchingAnswer> = {}): Part =>
  partsOf({ ...FIRST_DAY, ...more }, TELLING)[name]
const said = (name: PartName, more: Partial<WatchingAnswer> = {}) => {
  const { is, lines } = part(name, more)
  return `${is}: ${lines.join(' | ')}`
}

test('on the first day each part says that there is nothing yet, and where to go', () => {
  expect(said('log')).toMatch(/^good: 1 entry\. \| Not all of it has been checked yet/)
  expect(said('disk')).toBe('good: 12.3 GB left. | The log can be written to.')
  expect(said('backup')).toMatch(/^todo: Never backed up\./)
  expect(part('backup').goTo).toEqual({ word: 'SET UP BACKUPS', hash: '#/setup/backup' })
  expect(said('clock')).toBe('good: The shop’s time is that of the server’s computer.')
  expect(said('kiosks')).toMatch(/^empty: No kiosk has reported yet/)
  expect(said('label')).toMatch(/^empty: No label has been printed or written yet/)
  expect(part('label').goTo?.hash).toBe('#/bench')
})

describe('the log', () => {
  const log = (more: Partial<WatchingAnswer['log']>) => ({ log: { ...FIRST_DAY.log, ...more } })
  test('was checked, is being checked, and is not checked at all', () => {
    const check = { lastMs: NOW - DAY, isRunning: false }
    expect(said('log', log({ entries: 12_345, check }))).toMatch(
      /^good: 12,345 entries\. \| All of it was checked .*4.*14:20.* Nothing is wrong\.$/,
    )
    expect(said('log', log({ check: { ...check, isRunning: true } }))).toContain(
      'being checked now',
    )
    expect(said('log', log({ check: null }))).toBe('good: 1 entry.')
  })
  test('lacks entries, or is damaged: first, with what to do', () => {
    const loss = { kind: 'short', head: 3, knownHead: 9, knownHash: 'x', knownAtMs: NOW } as const
    expect(said('log', log({ loss }))).toMatch(/^todo: .*Restore the newest backup/)
    const trouble = { code: 'damaged', params: { position: 4 } } as const
    const damaged = { disk: { trouble, freeMb: 900 } }
    expect(said('log', damaged)).toMatch(/^todo: The server's log is damaged at entry 4\. Check/)
    expect(said('disk', damaged)).toMatch(/^good: 900 MB left/)
    const whole = { disk: { trouble: { ...trouble, params: { position: 0 } }, freeMb: 900 } }
    expect(said('log', whole)).toMatch(/^todo: The server's log is damaged\. Check/)
  })
})

test('a disk that is full, nearly full or cannot be asked', () => {
  const disk = (given: WatchingAnswer['disk']) => said('disk', { disk: given })
  expect(disk({ trouble: { code: 'full', params: {} }, freeMb: 2 })).toMatch(/^todo: .*is full/)
  expect(disk({ trouble: { code: 'low', params: { freeMb: 320 } }, freeMb: 320 })).toMatch(
    /^todo: .*320 MB left\. Free some space/,
  )
  expect(disk({ trouble: null, freeMb: null })).toMatch(/^good: The server cannot tell/)
})

describe('the backup', () => {
  const backup = (more: Partial<BackupsAnswer>) =>
    said('backup', { backup: { ...BACKED_UP, ...more } })
  test('was made, where, and when the next one is due', () => {
    expect(backup({})).toMatch(
      /^good: Last backup: .*03:20.*\. \| It is in \/media\/stick\/b1 \| Next: .*03:20.*\.$/,
    )
  })
  test.each<[string, Partial<BackupsAnswer>, RegExp]>([
    [
      'has never been made yet',
      { lastDone: null },
      /^empty: No backup has been made yet\. \| Next:/,
    ],
    [
      'is overdue',
      { lastDone: { ...BACKED_UP.lastDone, atMs: NOW - 3 * DAY } as never },
      /^todo: No backup for more than 2 days\. \| Last/,
    ],
    [
      'is not scheduled any more',
      { schedule: null },
      /^todo: No backups are scheduled any more\. \| Last/,
    ],
    ['lies on the same disk', { isSameDisk: true }, /^todo: .*on the disk of the log itself/],
    [
      'lacks photos',
      { lastDone: { ...BACKED_UP.lastDone, missing: 2 } as never },
      /^todo: .*2 photos are missing/,
    ],
    [
      'is running',
      { running: { step: 'copy', done: 0, of: 0 } },
      /^good: A backup is being made now/,
    ],
    [
      'failed',
      {
        lastFailed: {
          atMs: NOW,
          trouble: { code: 'folderMissing', params: { folder: '/media/stick' } },
        },
      },
      /^todo: The backup of .* failed\. .*Connect its drive.*\| Last backup/,
    ],
  ])('%s', (_, more, wanted) => {
    expect(backup(more)).toMatch(wanted)
  })
  test('is not made in a practice shop', () => {
    expect(said('backup', { backup: null })).toMatch(/^empty: This server makes no backups/)
  })
})

test('a clock that is off says by how much, and one in doubt what to do', () => {
  const clock = (offMs: number) =>
    said('clock', { clock: { ...FIRST_DAY.clock, wallMs: NOW + offMs } })
  expect(clock(90_000)).toMatch(/^good: .*90 s ahead of the shop/)
  expect(clock(-4 * MINUTE)).toMatch(/^good: .*4 min behind the shop/)
  const doubt = { doubt: 'jumped', wallMs: NOW + 8 * DAY, era: 1 } as const
  expect(said('clock', { clock: doubt })).toMatch(
    /^todo: Clock not confirmed\. \| .*jumped.*14:20.*13.*14:20.*\| Confirm the time/,
  )
})

test('kiosks are named by their work position, with since when they sound or do not', () => {
  const here = { device: TELLING.device, zone: 'z-1', sounds: true, sinceMs: NOW - MINUTE }
  const other = { device: 'DEVICEBBBBBBM2XV', zone: null, sounds: false, sinceMs: NOW }
  expect(said('kiosks', { kiosks: [here, other] })).toMatch(
    /^good: Spray booth K7QX \(this kiosk\): sound on since .*14:19.* \| Kiosk M2XV: no sound since .*14:20/,
  )
  expect(said('kiosks', { kiosks: [other] })).toMatch(
    /^todo: No kiosk has sound.* \| Touch any key on a kiosk.* \| Kiosk M2XV/,
  )
})

test('the last label leads to its cup', () => {
  const label = { atMs: NOW, cup: 'K7QDM2XV' }
  expect(said('label', { label })).toMatch(/^good: Cup K7QDM2XV, .*14:20/)
  expect(part('label', { label }).goTo?.hash).toBe('#/scan/K7QDM2XV')
})

test('in Spanish nothing is left in English', () => {
  const spanish: { say: typeof en; words: Words } = { say: es, words: palabras }
  const parts = partsOf({ ...FIRST_DAY, backup: BACKED_UP }, { ...TELLING, ...spanish })
  const text = Object.values(parts)
    .flatMap(({ lines }) => lines)
    .join(' ')
  expect(text).not.toMatch(/\b(the|is|entry|backup|sound)\b/i)
  expect(text).toContain('Último respaldo')
})
