import { prepOver } from '../sheet/fold.ts'
import type { State } from '../state.ts'
import { about } from './coatSignals.ts'
import type { HandTold, PanelTold } from './record.ts'
import { type Finding, type Kept, levelOf } from './signals.ts'
import { stepsOf, UNDER } from './steps.ts'

/** What was done by hand between the coats, or left out. */

const MINUTE_MS = 60_000

/** What is done by hand in a step of the route, and the signal of leaving it out. */
const WORKS: Readonly<Record<string, Kept>> = {
  degrease: 'cleanSkipped',
  tack: 'tackSkipped',
  isolate: 'isolatorSkipped',
  abrade: 'scuffSkipped',
  guideCoat: 'guideCoatSkipped',
}

/** Steps of the route before a coat: each was done, skipped, or passed over by the coat. */
function works(panel: PanelTold): Finding[] {
  return stepsOf(panel).flatMap(({ step, first }) => {
    const from = Math.max(-1, ...panel.coats.filter((c) => c.step < step).map((c) => c.step))
    return panel.route.flatMap((one, i): Finding[] => {
      if (i >= step || i <= from) return []
      const signal =
        one.stage === 'adhesion-promoter'
          ? 'promoterSkipped'
          : WORKS[one.work ?? (one.stage === 'sand' ? 'abrade' : '')]
      if (!signal) return []
      const skip = panel.hands.find((h) => h.type === 'StepSkipped' && h.data.step === i)
      const isLeft = first.passedOver.includes(i)
      const made = isLeft && skip ? { entry: skip.entry, at: skip.at } : {}
      return [about(first, signal, isLeft ? 1 : 0, made)]
    })
  })
}

/** A promoter that was sprayed was not left out. */
const promoters = (panel: PanelTold): Finding[] =>
  stepsOf(panel)
    .filter(({ first }) => first.stage === 'adhesion-promoter')
    .map(({ first }) => about(first, 'promoterSkipped', 0))

const isClean = (panel: PanelTold, { type, data }: HandTold): boolean =>
  type === 'PrepStepDone' &&
  (data.work === 'degrease' || panel.route[Number(data.step)]?.work === 'degrease')

/** The last cleaning before each layer. */
function cleanings(panel: PanelTold): Finding[] {
  return stepsOf(panel).flatMap(({ first }) => {
    const last = panel.hands.findLast((h) => isClean(panel, h) && h.at <= first.startedAt)
    const isUnder = panel.coats.some(
      (c) => c.startedAt < first.startedAt && c.startedAt > (last?.at ?? 0),
    )
    if (!last || isUnder) return []
    const value = (first.startedAt - last.at) / MINUTE_MS
    return [about(first, 'cleanLong', value, { value, limit: 30, entry: last.entry, at: last.at })]
  })
}

/** Papers in their order, as they are sold. */
const GRITS = [80, 120, 150, 180, 220, 240, 320, 400, 500, 600, 800, 1000, 1200, 1500, 2000, 3000]
/** Between which papers the next layer takes hold and hides the scratches. Common practice, no source. */
const PAPERS: Readonly<Record<string, readonly [number, number]>> = {
  'adhesion-promoter': [320, 800],
  primer: [80, 320],
  sealer: [240, 600],
  base: [320, 800],
  midcoat: [400, 1000],
  clear: [400, 1500],
  'single-stage': [320, 800],
}
const place = (grit: number): number => GRITS.findLastIndex((one) => one <= grit)

function grits(state: State, panel: PanelTold): Finding[] {
  return stepsOf(panel).flatMap(({ first }) => {
    const worked = panel.hands.findLast(
      (h) =>
        (h.type === 'PrepStepDone' || h.type === 'PanelAbraded') &&
        typeof h.data.grit === 'number' &&
        h.at <= first.startedAt,
    )
    const under = panel.coats.findLast((c) => c.startedAt < first.startedAt)
    const own = prepOver(
      state,
      first.sheet ?? undefined,
      under?.stage ?? 'existing',
      first.startedAt,
    )
    const usual = PAPERS[first.stage ?? '']
    const [least, most] = [own?.gritMin ?? usual?.[0], own?.gritMax ?? usual?.[1]]
    if (!worked || worked.at < (under?.startedAt ?? 0) || least === undefined || most === undefined)
      return []
    const grit = Number(worked.data.grit)
    const made = { value: grit, entry: worked.entry, at: worked.at }
    return [
      about(first, 'gritCoarse', place(least) - place(grit), { ...made, limit: least }),
      about(first, 'gritFine', place(grit) - place(most), { ...made, limit: most }),
    ]
  })
}

type Mark = { readonly entry: string; readonly at: number; readonly limit: number | null }

/** The marks of some codes on what was done to a panel, each at its moment. */
const marked = (panel: PanelTold, codes: readonly string[]): Mark[] =>
  [...panel.hands, ...panel.coats].flatMap((one) =>
    one.broken
      .filter(({ code }) => codes.includes(code))
      .map(({ limit, value }) => ({
        entry: one.entry,
        at: typeof value === 'number' ? value : 'at' in one ? one.at : one.startedAt,
        limit: typeof limit === 'number' ? limit : null,
      })),
  )

/** Of a wait from one instant to the limit, how much had passed. */
const waited = ({ at, limit, entry }: Mark, fromMs: number) => {
  const wanted = limit === null ? null : limit - fromMs
  const ratio = wanted === null ? 0 : wanted <= 0 ? 1 : (at - fromMs) / wanted
  return { ratio, made: { value: at - fromMs, limit: wanted, entry, at } }
}

/** Worked on before the film was ready, or sprayed before the cleaner had left. */
function early(panel: PanelTold): Finding[] {
  const hands = marked(panel, ['notReady', 'sandEarly', 'cureNotOver']).flatMap((mark) => {
    const film = panel.coats.findLast((c) => c.finishedAt !== null && c.finishedAt <= mark.at)
    if (!film) return []
    const { ratio, made } = waited(mark, film.finishedAt ?? mark.at)
    // Sanding an undercoat too early is a short cure of it.
    return [
      about(film, UNDER.includes(film.stage) ? 'undercoatShort' : 'handledEarly', ratio, made),
    ]
  })
  const wet = marked(panel, ['cleanerWet']).flatMap((mark) => {
    const coat = panel.coats.find(({ entry }) => entry === mark.entry)
    const cleaned = panel.hands.findLast((h) => isClean(panel, h) && h.at <= mark.at)
    if (!coat || !cleaned) return []
    const { ratio, made } = waited(mark, cleaned.at)
    return [about(coat, 'surfaceWet', ratio, made)]
  })
  return [...hands, ...wet]
}

/** A panel that was left alone until its cure was over was not handled early. */
function leftAlone(panel: PanelTold, found: readonly Finding[]): Finding[] {
  const last = panel.coats.at(-1)
  const isCured = panel.cures.some(
    (c) => c.stage === last?.stage && c.share !== null && c.share >= 1,
  )
  if (!last || !isCured || found.some(({ signal }) => signal === 'handledEarly')) return []
  return [about(last, 'handledEarly', 1, { value: null })]
}

/** A surface without a mark was dry, where a cleaning is known. */
function drySurface(found: readonly Finding[]): Finding[] {
  if (found.some(({ signal }) => signal === 'surfaceWet')) return []
  return found
    .filter(({ signal }) => signal === 'cleanLong')
    .map((one) => ({
      ...one,
      ...{ signal: 'surfaceWet', level: levelOf('surfaceWet', 1), value: null, limit: null },
    }))
}

/** What the work by hand says of a panel. */
export function byHand(state: State, panel: PanelTold): Finding[] {
  const found = [
    ...works(panel),
    ...promoters(panel),
    ...cleanings(panel),
    ...grits(state, panel),
    ...early(panel),
  ]
  return [...found, ...leftAlone(panel, found), ...drySurface(found)]
}
