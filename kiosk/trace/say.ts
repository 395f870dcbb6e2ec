import type { Deviation } from '../../machines/trace/deviations.ts'
import { bandOf, type Finding } from '../../machines/trace/signals.ts'
import { countdown, type Format, shortLength } from '../units/format.ts'
import type { Words } from '../words/en.ts'
import { historyIn } from '../words/historyIn.ts'
import { timelineIn } from '../words/timeline.ts'
import { traceIn } from '../words/traceIn.ts'
import type { Mark } from './mark.ts'

/** What Trace says, in the shop's words and units. Pure. */

/** Of a wait seconds count; of a longer one they do not: "6:01 min", "3 h 10". */
export const lengthText = (ms: number): string =>
  ms < 3_600_000 ? `${countdown(ms)} min` : shortLength(ms)

export type Say = { readonly words: Words; readonly format: Format }

const stageWord = (stage: string, { stage: names }: Words): string =>
  (names as Record<string, string>)[stage] ?? stage

export const coatWord = (stage: string, n: number | undefined, { words }: Say): string =>
  n === undefined ? stageWord(stage, words) : traceIn(words).coat(stageWord(stage, words), n)

const WAITS = [
  'flashShort',
  'nextShort',
  'standingShort',
  'undercoatShort',
  'surfaceWet',
  'handledEarly',
]
const LONGEST = ['windowOver', 'cupOld', 'filters']
const TEMPERATURES = ['cold', 'hot', 'tooFast', 'tooSlow', 'bakeHot']
const FILMS = ['filmHeavy', 'filmThin', 'filmOver']

/** Of a share that went the wrong way nothing is said but how far it is off. */
const percent = (share: number): string => `${Math.round(100 * share)} %`

/** The figure of a signal with its limit: "after 4 min, at least 10 min". */
function figures({ signal, value, limit, isMoot }: Finding, { words, format }: Say): string {
  const trace = traceIn(words)
  const { unit } = bandOf(signal)
  if (isMoot) return trace.moot
  if (value === null) return trace.done
  if (unit === 'yes') return value > 0.2 ? trace.leftOut : trace.done
  const both = (say: (n: number) => string) =>
    limit === null ? say(value) : trace.limit(say(value), say(limit))
  if (signal === 'bakeShort' || (signal === 'undercoatShort' && limit === 1))
    return trace.of(percent(value), percent(1))
  if (WAITS.includes(signal))
    return limit === null
      ? trace.neverDry(lengthText(value))
      : trace.waited(lengthText(value), lengthText(limit))
  if (LONGEST.includes(signal))
    return limit === null ? lengthText(value) : trace.within(lengthText(value), lengthText(limit))
  if (TEMPERATURES.includes(signal)) return both(format.temperature)
  if (FILMS.includes(signal)) return both((um) => `${format.number(um, 0)} µm`)
  if (signal === 'dewNear') return both(format.degrees)
  if (signal === 'humid') return both(format.humidity)
  if (signal === 'cleanLong') return both((min) => lengthText(min * 60_000))
  if (signal.startsWith('pressure')) return both(format.pressure)
  if (signal.startsWith('needle')) return both((mm) => `${format.number(mm, 1)} mm`)
  if (signal.startsWith('grit')) return both((grit) => `P${grit}`)
  if (unit === 'share') return percent(Math.max(0, value))
  return both((n) => format.number(n, Number.isInteger(n) ? 0 : 1))
}

/** One figure as a sentence: where, what, and its numbers. What speaks against says that it was not so. */
export function findingText(finding: Finding, say: Say): string {
  const { signal, stage, coat, level, isMoot } = finding
  const trace = traceIn(say.words)
  const where = stage === null ? '' : coatWord(stage, coat ?? undefined, say)
  const isFine = (level === 'within' || level === 'clearlyWithin') && !isMoot
  const isDone = bandOf(signal).unit === 'yes'
  const name = isFine && !isDone ? trace.notSo(trace.signals[signal]) : trace.signals[signal]
  return [where, name, figures(finding, say)].filter((part) => part !== '').join(' · ')
}

/** When the log came to know it. @param at when it happened: the day is said where it is another */
export const recordedText = (recordedAt: number, at: number, { words, format }: Say): string =>
  historyIn(words).recorded(format.timeAndDay(recordedAt, at))

/** By how much a limit was broken. */
export function excessText({ excess }: Deviation, { words, format }: Say): string {
  if (!excess) return ''
  const { amount, unit, share } = excess
  const trace = traceIn(words)
  const said = {
    ms: () => lengthText(amount),
    C: () => format.degrees(amount),
    rh: () => format.humidity(amount),
    um: () => `${format.number(amount, 0)} µm`,
    coats: () => format.number(amount, 0),
    mL: () => format.volume(amount),
    amount: () => format.number(amount, 1),
  }[unit]()
  return trace.excess(share === null ? said : `${said} (${percent(share)})`)
}

/** What a deviation is about: the limit's name, or what was taken back. */
export function deviationName({ kind, code, side }: Deviation, { words }: Say): string {
  const { codes, events } = historyIn(words)
  const trace = traceIn(words)
  const name =
    kind === 'void' ? ((events as Record<string, string>)[code] ?? code) : (codes[code] ?? code)
  return side === undefined ? name : `${name}, ${trace.sides[side]}`
}

/** Where it was: the panel and its coat, or the cup, the gun. */
export function whereText({ where }: Deviation, say: Say): string {
  const { panelName, stage, coat, cup, gun } = where
  return [
    panelName ?? '',
    stage === null ? '' : coatWord(stage, coat ?? undefined, say),
    cup === null ? '' : traceIn(say.words).cup(cup.slice(0, 4)),
    panelName === null && gun !== null ? gun : '',
  ]
    .filter((part) => part !== '')
    .join(' · ')
}

/** What a mark is, as the table says it. */
export function markName({ kind, what, n, row }: Mark, say: Say): string {
  const { words } = say
  const trace = traceIn(words)
  const { events, bells } = historyIn(words)
  switch (kind) {
    case 'air':
      return trace.air
    case 'dew':
      return timelineIn(words).dew
    case 'movers':
      return timelineIn(words).movers
    case 'gap':
      return `${row.startsWith('dew') ? timelineIn(words).dew : trace.air}: ${trace.notRecorded}`
    case 'band':
      return `${coatWord(what, n, say)}, ${trace.allowed}`
    case 'wait':
      return `${coatWord(what, n, say)}, ${trace.tooEarly}`
    case 'coat':
    case 'use':
      return coatWord(what, n, say)
    case 'cure':
      return (words.jobs.cures as Record<string, string>)[what] ?? trace.cure
    case 'past':
      return `${what}: ${trace.overEnd}`
    case 'bell':
      return bells[what] ?? what
    case 'work':
    case 'void':
    case 'later':
      return (events as Record<string, string>)[what] ?? what
    default:
      return what
  }
}

/** The numbers on a mark: "4:10 of 7 min ×0.6". */
export function markNumbers({ kind, numbers = [], flags, from, to }: Mark, say: Say): string {
  const { words, format } = say
  const trace = traceIn(words)
  const timeline = timelineIn(words)
  const [first = null, second = null, third = null] = numbers
  if (kind === 'air')
    return [
      first === null ? '' : format.temperature(first),
      second === null ? '' : format.humidity(second),
      third === null ? '' : `△ ${format.temperature(third)}`,
    ]
      .filter((part) => part !== '')
      .join(' ')
  if (kind === 'dew' && first !== null)
    return `${format.degrees(first)}, ${timeline.dewLimit(format.degrees(second ?? 0))}`
  if (kind === 'later' && first !== null) {
    const time = format.timeAndDay(first, from)
    return flags.includes('voided') ? timeline.takenBackAt(time) : timeline.toldAt(time)
  }
  if (kind === 'coat' && first !== null) {
    if (flags.includes('late') && third !== null && third > 0)
      return `${trace.of(lengthText(first), lengthText(third))} ${trace.ratio(format.number(first / third, 1))}`
    if (second === null) return trace.neverDry(lengthText(first))
    if (second <= 0) return ''
    const of = trace.of(lengthText(first), lengthText(second))
    return first < second ? `${of} ${trace.ratio(format.number(first / second, 2))}` : of
  }
  if (kind === 'cure') return first === null ? trace.notRecorded : percent(first)
  if (kind === 'cup' && first !== null) return `→ ${format.timeAndDay(first, to ?? first)}`
  if (kind === 'use' && first !== null) return format.pressure(first)
  return ''
}

/** The marks of a mark, in words; and of what was told late, when. */
export function flagsText({ flags, from, recordedAt }: Mark, { words, format }: Say): string {
  const trace = traceIn(words)
  const names = {
    outside: trace.outside,
    override: trace.override,
    estimated: trace.estimated,
    notRecorded: trace.notRecorded,
    voided: trace.voids,
    early: trace.tooEarly,
    late: trace.overEnd,
    under: timelineIn(words).under,
  }
  const told = recordedAt === undefined ? [] : [recordedText(recordedAt, from, { words, format })]
  return [...flags.map((flag) => names[flag]), ...told].join(', ')
}
