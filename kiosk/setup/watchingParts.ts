import type { BackupsAnswer } from '../../machines/contract/backup.ts'
import type { KioskHeard, WatchingAnswer } from '../../machines/contract/watching.ts'
import type { State } from '../../machines/state.ts'
import { diskText, lossText, wrongText } from '../commands/refusalText.ts'
import { zoneWord } from '../lanes/zones.ts'
import { hashOf } from '../ui/route.ts'
import type { Format } from '../units/format.ts'
import { secondsOrLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import type { en } from '../words/watching.ts'

/** What is said of each thing that keeps the shop's record, and what to do about it. Pure. */

export const PARTS = ['log', 'disk', 'backup', 'clock', 'kiosks', 'label'] as const
export type PartName = (typeof PARTS)[number]

export type Part = {
  /** `good`: nothing to do; `todo`: somebody has to; `empty`: there is nothing yet. */
  readonly is: 'good' | 'todo' | 'empty'
  /** The first one is the one that matters. */
  readonly lines: readonly string[]
  /** Where it is done. */
  readonly goTo?: { readonly word: string; readonly hash: string }
}

type Telling = {
  readonly say: typeof en
  readonly words: Words
  readonly format: Format
  /** Null before the shop is loaded. */
  readonly state: State | null
  /** The id of this kiosk. */
  readonly device: string
}

/** A step that is not worth saying: the clock is looked at once in a while. */
const AGREES_MS = 2_000
const LATE_MS = 2 * 86_400_000
const BACKUP = hashOf('setup', 'backup')

/** All parts of an answer, in words. */
export function partsOf(answer: WatchingAnswer, telling: Telling): Record<PartName, Part> {
  return {
    log: logPart(answer, telling),
    disk: diskPart(answer, telling),
    backup: answer.backup
      ? backupPart(answer.backup, answer.nowMs, telling)
      : { is: 'empty', lines: [telling.say.backup.none] },
    clock: clockPart(answer, telling),
    kiosks: kiosksPart(answer, telling),
    label: labelPart(answer, telling),
  }
}

const dayTime = (ms: number, { format }: Telling): string =>
  `${format.fullDate(ms)} ${format.time(ms)}`

function logPart({ log, disk }: WatchingAnswer, telling: Telling): Part {
  const { say, format } = telling
  const entries = say.log.entries(log.entries, format.number(log.entries, 0))
  if (log.loss)
    return { is: 'todo', lines: [lossText(log.loss, telling), say.log.restore, entries] }
  const { lastMs = null, isRunning = false } = log.check ?? {}
  const when = lastMs === null ? null : dayTime(lastMs, telling)
  const running = isRunning ? [say.log.running] : []
  if (disk.trouble?.code === 'damaged') {
    const checked = when === null ? [] : [say.log.checked(when)]
    return { is: 'todo', lines: [diskText(disk.trouble, telling), entries, ...checked, ...running] }
  }
  if (log.check === null) return { is: 'good', lines: [entries] }
  const checked = when === null ? say.log.never : say.log.good(when)
  return { is: 'good', lines: [entries, ...(isRunning ? running : [checked])] }
}

function diskPart({ disk }: WatchingAnswer, telling: Telling): Part {
  const { say, format } = telling
  const { trouble, freeMb } = disk
  const left = freeMb === null ? say.disk.unknown : say.disk.left(sizeOf(freeMb, format))
  if (trouble !== null && trouble.code !== 'damaged')
    return { is: 'todo', lines: [diskText(trouble, telling)] }
  return { is: 'good', lines: [left, say.disk.writable] }
}

const sizeOf = (mb: number, format: Format): string =>
  mb < 1_000 ? `${mb} MB` : `${format.number(mb / 1_000, mb < 100_000 ? 1 : 0)} GB`

function backupPart(backup: BackupsAnswer, nowMs: number, telling: Telling): Part {
  const { say, words, format } = telling
  const { schedule, lastDone, lastFailed, nextMs, running, isSameDisk } = backup
  const own = say.backup
  const last = lastDone ? [own.last(dayTime(lastDone.atMs, telling)), own.where(lastDone.path)] : []
  const setUp = { word: own.setUp, hash: BACKUP }
  if (schedule === null && lastFailed === null)
    return { is: 'todo', lines: [lastDone ? own.notSet : own.never, ...last], goTo: setUp }
  const goTo = { word: own.look, hash: BACKUP }
  const next = nextMs === null ? [] : [own.next(dayTime(nextMs, telling))]
  const beside = isSameDisk ? [own.sameDisk] : []
  const missing = lastDone && lastDone.missing > 0 ? [own.missing(lastDone.missing)] : []
  const rest = [...last, ...missing, ...beside]
  if (running) return { is: 'good', lines: [own.running, ...rest], goTo }
  if (lastFailed) {
    const why = wrongText(
      { code: 'noBackup', params: { trouble: lastFailed.trouble } },
      { words, format },
    )
    const failed = `${own.failed(dayTime(lastFailed.atMs, telling))} ${why}`
    return { is: 'todo', lines: [failed, ...rest, ...next], goTo }
  }
  if (lastDone === null) return { is: 'empty', lines: [own.first, ...next, ...beside], goTo }
  const isLate = nowMs - lastDone.atMs > LATE_MS
  const isTodo = isLate || rest.length > last.length
  const lines = isLate ? [own.late, ...rest, ...next] : [...rest, ...next]
  return { is: isTodo ? 'todo' : 'good', lines, goTo }
}

function clockPart({ clock, nowMs }: WatchingAnswer, telling: Telling): Part {
  const { say, words } = telling
  const { server } = words
  if (clock.doubt !== null) {
    const counts = server.counts(dayTime(nowMs, telling))
    const shows = server.shows(dayTime(clock.wallMs, telling))
    const why = `${words.said.doubts[clock.doubt]} ${counts} ${shows}`
    return { is: 'todo', lines: [`${server.clockTitle}.`, why, say.clock.confirm] }
  }
  const offMs = clock.wallMs - nowMs
  if (Math.abs(offMs) <= AGREES_MS) return { is: 'good', lines: [say.clock.agrees] }
  const length = secondsOrLength(Math.abs(offMs))
  return { is: 'good', lines: [offMs > 0 ? say.clock.ahead(length) : say.clock.behind(length)] }
}

function kiosksPart({ kiosks }: WatchingAnswer, telling: Telling): Part {
  const own = telling.say.kiosks
  if (kiosks.length === 0) return { is: 'empty', lines: [own.noneOpen] }
  const all = kiosks.map((one) => {
    const since = dayTime(one.sinceMs, telling)
    const name = nameOf(one, telling)
    return one.sounds ? own.sounds(name, since) : own.silent(name, since)
  })
  const goTo = { word: own.listen, hash: hashOf('setup', 'kiosk') }
  if (kiosks.some(({ sounds }) => sounds)) return { is: 'good', lines: all, goTo }
  return { is: 'todo', lines: [own.nobody, own.touch, ...all], goTo }
}

/** So many of an id's characters tell one shop's kiosks apart. */
const SHOWN = 4

function nameOf(
  { device, zone }: KioskHeard,
  { say, state, words, device: here }: Telling,
): string {
  const id = device.slice(-SHOWN)
  const name =
    zone !== null && state !== null
      ? `${zoneWord(state, words.zones, zone)} ${id}`
      : say.kiosks.unnamed(id)
  return device === here ? say.kiosks.here(name) : name
}

function labelPart({ label }: WatchingAnswer, telling: Telling): Part {
  const own = telling.say.label
  if (label === null)
    return { is: 'empty', lines: [own.none], goTo: { word: own.bench, hash: hashOf('bench') } }
  return {
    is: 'good',
    lines: [own.last(label.cup, dayTime(label.atMs, telling))],
    goTo: { word: own.look, hash: hashOf('scan', label.cup) },
  }
}
