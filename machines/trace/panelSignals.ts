import { hasFlakes } from '../cup/paint.ts'
import { contextOf, type State } from '../state.ts'
import { about } from './coatSignals.ts'
import type { CureTold } from './cureTold.ts'
import { byHand } from './handSignals.ts'
import type { PanelTold } from './record.ts'
import { type Finding, type Kept, levelOf } from './signals.ts'
import { stepsOf, UNDER } from './steps.ts'

/** What a panel's way says beside its single coats: cures, counts, films, blends, and what was done by hand. */

function ofCure(panel: PanelTold, cure: CureTold): Finding[] {
  const at = (
    signal: Kept,
    judged: number,
    made: Partial<Finding>,
    isMeasured = true,
  ): Finding => ({
    ...{ signal, level: levelOf(signal, judged, isMeasured), value: judged, limit: null },
    ...{ panel: panel.id, stage: cure.stage, over: null, coat: null, cup: null },
    ...{ at: cure.startedAt, entry: cure.entry, ...made },
  })
  const found: Finding[] = []
  const { wait, share, hottest, isMeasured } = cure
  if (wait) {
    const value = cure.startedAt - wait.fromMs
    const limit = wait.dueAt === null ? null : wait.dueAt - wait.fromMs
    const ratio = limit === null ? 0 : limit <= 0 ? 2 : value / limit
    found.push(at('standingShort', ratio, { value, limit }))
  } else if (cure.mode === 'air') {
    found.push({ ...at('standingShort', 2, { value: null }), isMoot: true, level: 'clearlyWithin' })
    found.push({ ...at('bakeHot', 0, { value: null }), isMoot: true, level: 'clearlyWithin' })
  }
  if (share !== null) {
    const made = {
      value: share,
      limit: 1,
      entry: cure.end ?? cure.entry,
      at: cure.endedAt ?? cure.startedAt,
    }
    found.push(
      UNDER.includes(cure.stage)
        ? at('undercoatShort', share, made, isMeasured)
        : at('bakeShort', 1 - share, made, isMeasured),
    )
  }
  if (hottest) {
    const { partC: value, limitC: limit } = hottest
    found.push(at('bakeHot', value / limit - 1, { value, limit, entry: cure.end ?? cure.entry }))
  }
  return found
}

/** How many coats a step has, once something went over it or the panel is done. */
function counts(panel: PanelTold): Finding[] {
  const all = stepsOf(panel)
  return all.flatMap(({ step, last, all: coats }) => {
    const planned = panel.route[step]?.coats?.planned
    const isOver =
      panel.coats.some((c) => c.step > step) || panel.passedAt !== null || panel.cures.length > 0
    if (planned === undefined || !isOver) return []
    const made = { value: coats.length, limit: planned }
    return [
      about(last, 'coatsFew', planned - coats.length, made),
      about(last, 'coatsMany', coats.length - planned, made),
    ]
  })
}

/** Whether a color with flakes had its drop coat. */
function dropCoat(state: State, panel: PanelTold): Finding[] {
  const job = Object.values(state.things.job)[0]?.context
  return stepsOf(panel).flatMap(({ step, last, all }) => {
    const wanted = panel.route[step]
    if (wanted?.stage !== 'base') return []
    const colour = job?.colours.find(
      ({ key }) => wanted.colour === undefined || key === wanted.colour,
    )
    if (!colour?.kind) return []
    if (!hasFlakes(colour.kind))
      return [{ ...about(last, 'noDropCoat', 0, { value: null, isMoot: true }) }]
    return [about(last, 'noDropCoat', all.some(({ kind }) => kind === 'drop') ? 0 : 1)]
  })
}

/** Films that were measured or planned beyond the most. */
function films(panel: PanelTold): Finding[] {
  const marks = [...panel.hands, ...panel.coats].flatMap((one) =>
    one.broken.flatMap(({ code, limit, value }) =>
      code === 'filmOver' && typeof limit === 'number' && typeof value === 'number'
        ? [{ entry: one.entry, at: 'at' in one ? one.at : one.startedAt, limit, value }]
        : [],
    ),
  )
  const last = panel.coats.at(-1)
  if (!last) return []
  if (marks.length === 0) {
    const gauge = panel.hands.findLast((h) => h.type === 'FilmRead' && h.data.method === 'gauge')
    return gauge
      ? [
          about(last, 'filmOver', 0, {
            value: Number(gauge.data.um),
            entry: gauge.entry,
            at: gauge.at,
          }),
        ]
      : []
  }
  return marks.map(({ limit, value, entry, at }) => ({
    ...about(last, 'filmOver', value / limit - 1, { value, limit, entry, at }),
  }))
}

/** How a blend was sprayed: each coat further than the one before, into a wet bed, clear to an edge. */
function blends(panel: PanelTold): Finding[] {
  const clear = panel.coats.find(({ stage }) => stage === 'clear')
  const isOffEdge = panel.coats.some((c) => c.broken.some(({ code }) => code === 'openFade'))
  const edge = clear ? [about(clear, 'clearOffEdge', isOffEdge ? 1 : 0)] : []
  const base = panel.coats.filter(({ stage }) => stage === 'base' || stage === 'midcoat')
  const [last] = base.slice(-1)
  if (panel.operation !== 'blend' || !last) return edge
  const reach = base.map(({ reachCm }) => reachCm)
  const isKnown = reach.length > 1 && reach.every((cm) => cm !== null)
  const grows = reach.every((cm, i) => i === 0 || (cm ?? 0) > (reach[i - 1] ?? 0))
  const bed = panel.route.some(({ stage }) => stage === 'blender')
  const isBedOn = panel.coats.some(({ stage }) => stage === 'blender')
  return [
    ...edge,
    ...(isKnown ? [about(last, 'blendShort', grows ? 0 : 1)] : []),
    ...(bed ? [about(last, 'noWetBed', isBedOn ? 0 : 1)] : []),
  ]
}

/** The cups that a cup goes back to: those that were mixed. */
function rootsOf(state: State, id: string, seen: readonly string[] = []): string[] {
  const parents = contextOf(state, 'cup', id)?.parents ?? []
  if (parents.length === 0 || seen.includes(id)) return [id]
  return parents.flatMap((one) => rootsOf(state, one, [...seen, id]))
}

/** Whether a panel's color came from other mixes than its neighbors'. */
export function mixesBeside(state: State, panel: PanelTold, all: readonly PanelTold[]): Finding[] {
  const of = ({ coats }: PanelTold, sheet: string | null) =>
    new Set(
      coats
        .filter((c) => c.sheet === sheet)
        .flatMap((c) => c.cups.flatMap((id) => rootsOf(state, id))),
    )
  return stepsOf(panel).flatMap(({ first }) => {
    const others = all.filter(
      (o) => o.id !== panel.id && o.coats.some((c) => c.sheet === first.sheet),
    )
    if (first.stage !== 'base' || others.length === 0) return []
    const own = of(panel, first.sheet)
    const isOther = others.every((o) => [...of(o, first.sheet)].every((id) => !own.has(id)))
    return [about(first, 'otherMix', isOther ? 1 : 0)]
  })
}

/** What a panel says beside its single coats. */
export function ofPanel(state: State, panel: PanelTold, all: readonly PanelTold[]): Finding[] {
  return [
    ...panel.cures.flatMap((cure) => ofCure(panel, cure)),
    ...counts(panel),
    ...dropCoat(state, panel),
    ...byHand(state, panel),
    ...films(panel),
    ...blends(panel),
    ...mixesBeside(state, panel, all),
  ]
}
