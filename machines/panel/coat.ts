import type { ThingRef } from '../catalog.ts'
import type { CommandData } from '../commands.ts'
import { colourOf, colourText } from '../cup/colours.ts'
import { cupEndsAt } from '../cup/ends.ts'
import { cupProblems, findCup } from '../cup/find.ts'
import type { CupContext } from '../cup/machine.ts'
import { isSameColour } from '../cup/paint.ts'
import { type Deciding, type Decision, type NewFact, refused } from '../deciding.ts'
import { foldThing } from '../fold.ts'
import { loadOf } from '../gun/load.ts'
import { joinedMarks, judge, type Marks } from '../judge.ts'
import type { Problem } from '../refusals.ts'
import { hundredths } from './airGate.ts'
import { asksOf } from './asks.ts'
import { colourOrTint, fitsOf, stepMeant } from './coatColour.ts'
import { type Claim, type Judged, judgeCoat } from './coatProblems.ts'
import { coversStart, lastCoat, type PanelContext, zoneOf } from './context.ts'
import { type FoundPanel, findPanels, keysOf } from './find.ts'
import { shutsAt } from './gateTimes.ts'
import { holdOf } from './hold.ts'
import { notFrom } from './notFrom.ts'
import { panelsWithin, sprayMs } from './spraying.ts'
import { pressedAt } from './spread.ts'
import { routeState } from './where.ts'

/** The numbers that the coat was judged by, kept in its entry. */
export function judgedBy(d: Deciding, judged: Judged, cup: CupContext | null) {
  const { gate, air, dewMarginC, surfaceAssumedC } = judged
  return {
    flashEndsAt: gate?.flashEndsAt ?? null,
    shutsAt: gate ? shutsAt(gate) : null,
    cupEndsAt: cup ? cupEndsAt(d.state, cup) : null,
    ...(air ? { airC: air.airC, rh: air.rh } : {}),
    ...(dewMarginC === null ? {} : { dewMarginC: hundredths(dewMarginC) }),
    ...(surfaceAssumedC === null ? {} : { surfaceAssumed: surfaceAssumedC }),
  }
}

export const panelKeys = (p: FoundPanel) => ({
  ...keysOf(p),
  ...(p.panel.stays.length === 0 ? {} : { zone: zoneOf(p.panel) }),
})

/** The cup is where the panel is: its clock runs on in the air there. */
export const cupZoneOf = ({ panel }: FoundPanel): { cupZone: string | null } => ({
  cupZone: panel.stays.length === 0 ? null : zoneOf(panel),
})

/** The hand-made variant of a cup, kept with its coat: the cup may be gone when the next one goes on. */
export const tintOf = (cup: CupContext | null): { tint?: string } =>
  cup?.paint?.tint === undefined ? {} : { tint: cup.paint.tint }

/** What the sheet of a start asked. A late one was asked nothing. */
function askedOf(d: Deciding, { panel }: FoundPanel): { asked?: readonly string[] } {
  const asked = d.isLive ? asksOf(d.state, [panel], d.at).map(({ what }) => what) : []
  return asked.length === 0 ? {} : { asked }
}

/** The problems of each coat, by panel. */
export const notJudgedBy = (all: readonly { p: FoundPanel; judged: Judged }[]) =>
  new Map(all.map(({ p, judged }) => [p.id, judged.notJudged]))

/** A problem of cup or gun is the same for each panel of a pass: it is given once. */
function once(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>()
  return problems.filter((p) => {
    const key = `${p.code} ${p.panel ?? ''} ${JSON.stringify(p.limit)}`
    return seen.has(key) ? false : seen.add(key)
  })
}

/** A start that a spread finish lies before is judged by what had been pressed by then. */
function beforeItsCoat(d: Deciding, p: FoundPanel): FoundPanel {
  if (!coversStart(lastCoat(p.panel), d.at)) return p
  const ref: ThingRef<'panel'> = { kind: 'panel', id: p.id }
  const by = p.thing.entries.filter((e) => pressedAt(e) <= d.at || e.type === 'EntryVoided')
  const thing = foldThing(d.state, ref, by)
  return thing ? { ...p, panel: thing.context, where: routeState(thing.value), thing } : p
}

/** A pass starts on all its panels or on none; it is judged for each at the press. */
export function startCoat(d: Deciding<'StartCoat', CommandData<'StartCoat'>>): Decision {
  const { panels, cup: cupId, kind, step, gun, gunSet, override } = d.data
  const { found: foundThen, problems } = findPanels(d, panels)
  if (problems.length > 0) return refused(...problems)
  const found = foundThen.map((p) => beforeItsCoat(d, p))
  const cup = findCup(d, cupId)
  const all = found.map((p) => {
    const own = step ?? stepMeant(d, p, cup)
    const claim: Claim = { cupId, cup, gunId: gun, step: own, kind }
    return { p, step: own, judged: judgeCoat(d, p, claim) }
  })
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: once(all.flatMap(({ judged }) => judged.problems)),
    notJudged: notJudgedBy(all),
    standing: all.flatMap(({ judged }) => judged.standing),
    override,
  })
  if ('refusal' in verdict) return verdict
  const cupEnds = cup ? cupEndsAt(d.state, cup) : null
  const lasts =
    cupEnds === null || cupEnds <= d.at
      ? found.length
      : panelsWithin(
          d.state,
          found.map(({ panel }) => panel),
          d.at,
          cupEnds,
        )
  const facts = all.map(
    ({ p, step: own, judged }): NewFact => ({
      type: 'CoatStarted',
      keys: {
        ...panelKeys(p),
        cup: cupId,
        ...(gun === undefined ? {} : { gun }),
        ...(cup ? { sheet: cup.sheet } : {}),
      },
      data: {
        kind,
        sheet: cup?.sheet ?? null,
        stage: cup?.stage ?? null,
        mixes: holdOf(cup)?.mixes ?? [],
        ...tintOf(cup),
        ...cupZoneOf(p),
        ...(own === undefined ? {} : { step: own }),
        ...fitsOf(d, p.panel, cup, step),
        ...(gun === undefined ? {} : { load: loadOf(cupId, cup) }),
        ...(gunSet === undefined ? {} : { gunSet }),
        ...askedOf(d, p),
        pass: found.map(({ id }) => id),
        judged: judgedBy(d, judged, cup),
        // Not refused, because the coat may be quicker than estimated, but the answer warns.
        ...(lasts < found.length ? { warnings: ['cupEndsDuringCoat'], cupLastsFor: lasts } : {}),
      },
      marks: verdict.marks(p.id),
    }),
  )
  return { facts }
}

/** The problems of continuing a coat from another cup: it must hold the same as the first one. */
export function otherCupProblems(d: Deciding, p: FoundPanel, cup: CupContext | null): Problem[] {
  const { open, route } = p.panel
  const about = { panel: p.id, about: p.panel.name }
  if (!open || !cup) return []
  const step = route[open.step]
  const first = findCup(d, open.cups[0])
  const product = step?.sheet ?? first?.sheet ?? cup.sheet
  if (cup.sheet !== product) {
    return [{ code: 'wrongProduct', limit: product, value: cup.sheet, ...about }]
  }
  const ofStep = colourOrTint(d, p, cup, open.step)
  if (step?.colour !== undefined || !first?.colour || cup.colour === null) return ofStep
  const [wanted, held] = [colourOf(d.state, first), colourOf(d.state, cup)]
  if (isSameColour(wanted, held)) return []
  const limit = colourText(d.state, wanted, held)
  return [{ code: 'wrongColour', limit, value: colourText(d.state, held, wanted), ...about }]
}

/**
 * What is sprayed after its cup's end is outside: of a pass the panels that came after that.
 * @param at until when its last cup was sprayed, UTC ms
 */
export function pastEnd(d: Deciding, { open }: PanelContext, at: number): Marks {
  const cup = findCup(d, open?.cups.at(-1))
  const limit = cup && cupEndsAt(d.state, cup)
  const began = open?.startedAt ?? at
  // A coat that began after it said so at its start.
  if (limit === null || at <= limit || began >= limit) return {}
  return { outside: [{ code: 'potLifeOver', limit, value: at }] }
}

/** Another cup for running coats: the same product is sprayed from it. */
export function continueCoat(d: Deciding<'ContinueCoat', CommandData<'ContinueCoat'>>): Decision {
  const { panels, cup: cupId, override } = d.data
  const { found, problems } = findPanels(d, panels)
  if (problems.length > 0) return refused(...problems)
  const cup = findCup(d, cupId)
  const verdict = judge({
    isLive: d.isLive,
    now: d.now,
    problems: [
      ...found.flatMap((p) => notFrom(d, p, { type: 'CoatContinued', data: {} }, cupId)),
      ...found.flatMap((p) => otherCupProblems(d, p, cup)),
      ...cupProblems(d, cupId, cup, d.at),
    ],
    override,
  })
  if ('refusal' in verdict) return verdict
  let sprayedMs = 0
  const facts = found.map((p, i): NewFact => {
    const gun = p.panel.open?.gun ?? null
    // Until now the panels of a pass were sprayed one after another.
    const startedAt = p.panel.open?.startedAt ?? d.at
    const fromMs = startedAt + sprayedMs
    sprayedMs += sprayMs(d.state, p.panel, d.at)
    const toMs = i + 1 < found.length ? Math.min(d.at, startedAt + sprayedMs) : d.at
    const past = fromMs < d.at ? pastEnd(d, p.panel, toMs) : {}
    return {
      type: 'CoatContinued',
      keys: { ...panelKeys(p), cup: cupId, ...(gun === null ? {} : { gun }) },
      data: {
        hold: holdOf(cup),
        ...tintOf(cup),
        ...cupZoneOf(p),
        ...(gun === null ? {} : { load: loadOf(cupId, cup) }),
      },
      marks: joinedMarks(verdict.marks(p.id), past),
    }
  })
  return { facts }
}
