import { type PanelContext, zoneOf } from '../panel/context.ts'
import type { State } from '../state.ts'
import { afterAbrading, afterCoat, afterCure, afterHand } from './actPanel.ts'
import {
  byPriority,
  type Candidate,
  heatInTime,
  isAlone,
  type Plan,
  plainOf,
  plannedCoat,
  timesOf,
  type Way,
} from './choice.ts'
import { type Estimate, estimate, type Simulated, type Start } from './estimate.ts'
import type { Cannot, CannotBe, Means, PlannedAct } from './forecastTypes.ts'
import { readAfterHeat } from './heldAir.ts'
import {
  type Act,
  type Asking,
  abradeNext,
  type CoatAct,
  type CureAct,
  type HandAct,
  isByPerson,
  type Next,
  nextOf,
} from './nextAct.ts'
import { Places } from './places.ts'
import { remembered } from './remembered.ts'
import { Resources, useGun } from './resources.ts'

/**
 * List scheduling: of all that could be begun, what begins first is planned; where several could, the
 * panel that comes first in an order of priority. Each act is put on a copy of its panel by the rules'
 * own fold, and what follows it is asked of the same gates that judge a press.
 */

/**
 * @param way the ids of the panels, the most urgent first, and how far one with priority may hold up others
 *   that could begin sooner: not at all, or until the first of these would be over. Or the panel of each act,
 *   one after another.
 */
export function scheduled(asking: Asking, means: Means, starts: readonly Start[], way: Way): Plan {
  return new Scheduling(asking, means, starts, way).run()
}

class Scheduling {
  readonly #asking: Asking
  readonly #resources: Resources
  readonly #places: Places
  readonly #panels: Simulated[]
  readonly #way: Way
  #named = 0
  readonly #acts: PlannedAct[] = []
  readonly #cannot: CannotBe[] = []
  readonly #doneAt = new Map<string, number>()
  #state: State
  #asked: Asking
  #firstMs = Number.POSITIVE_INFINITY
  #instead: readonly string[] = []

  constructor(asking: Asking, means: Means, starts: readonly Start[], way: Way) {
    this.#asking = asking
    this.#state = asking.state
    this.#asked = asking
    this.#way = way
    this.#resources = new Resources(means, asking.state, asking.now)
    const rank = new Map(('order' in way ? way.order : []).map((id, i) => [id, i]))
    this.#panels = starts.map(({ id, panel, begun }) => ({
      id,
      rank: rank.get(id) ?? starts.length,
      panel,
      freeAt: asking.now,
      next: { kind: 'done' },
      ...(begun ? { begun } : {}),
    }))
    this.#places = new Places(asking.state, this.#panels)
  }

  run(): Plan {
    for (const one of this.#panels) this.#begin(one)
    for (const one of this.#panels) this.#renew(one)
    // Each turn ends an act or a panel, so that this comes to an end.
    for (;;) {
      const chosen = this.#choose()
      if (!chosen) break
      this.#commit(chosen)
    }
    return {
      acts: this.#acts.sort((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs),
      cannot: this.#cannot,
      doneAt: this.#doneAt,
      instead: this.#instead,
    }
  }

  /** What goes on already: it keeps its people and its zone until it is over. */
  #begin(one: Simulated): void {
    if (!one.begun) return
    const { act, after } = one.begun
    this.#acts.push(act)
    if (act.kind === 'coat') {
      const person = this.#resources.personFor(true)
      // The panels of a pass are sprayed by one painter: it is over when the last of them is.
      if (person) person.freeAt = Math.max(person.freeAt, act.toMs)
      this.#resources.put(this.#resources.coats, act.zone, act)
    }
    if (act.kind === 'cure' && act.mode !== 'air') this.#resources.heat(act.zone, act)
    one.freeAt = act.toMs
    this.#keep(one, after)
    if (act.kind === 'cure' && act.mode !== 'air')
      this.#state = readAfterHeat(this.#state, act.zone, act.toMs, this.#asking.now)
  }

  /** The shop as the plan has made it by now. */
  #ask(): Asking {
    if (this.#asked.state !== this.#state) this.#asked = { ...this.#asking, state: this.#state }
    return this.#asked
  }

  #renew(one: Simulated): void {
    one.next = this.#next(one)
    if (one.next.kind === 'done') {
      this.#doneAt.set(one.id, one.freeAt)
      this.#leave(one)
    }
    if (one.next.kind === 'cannot') this.#giveUp(one, one.next.why)
  }

  #giveUp(one: Simulated, why: Cannot): void {
    const stage = one.panel.route[one.panel.status.indexOf('open')]?.stage ?? null
    one.next = { kind: 'cannot', why }
    this.#cannot.push({ ...why, panel: one.id, job: one.panel.job, stage })
    this.#leave(one)
  }

  #leave({ panel, freeAt }: Simulated): void {
    const goOn = this.#panels.filter(({ next }) => next.kind !== 'cannot')
    this.#places.leave(panel, goOn, freeAt)
  }

  /** Puts a changed panel in its place; where it was heated, the clocks of others in its zone are others too. */
  #keep(one: Simulated, panel: PanelContext): void {
    const isHeated = panel.heats !== one.panel.heats
    one.panel = panel
    if (!isHeated) return
    const thing = this.#state.things.panel[one.id]
    if (!thing) return
    const ofKind = { ...this.#state.things.panel, [one.id]: { ...thing, context: panel } }
    this.#state = { ...this.#state, things: { ...this.#state.things, panel: ofKind } }
  }

  #choose(): Candidate | null {
    const all: Candidate[] = []
    const isList = 'order' in this.#way && this.#way.patience === 0
    let soonest = Number.POSITIVE_INFINITY
    for (const one of this.#panels) {
      if (one.next.kind === 'done' || one.next.kind === 'cannot') continue
      // What cannot be the first to begin need not be looked at any closer.
      if (isList && one.next.fromMs > soonest) continue
      const at = this.#estimate(one, one.next)
      // Where its window is shut, its coat has become abrading.
      const act = one.next as Next
      if (!at || act.kind === 'done' || act.kind === 'cannot') continue
      all.push({ one, act, at })
      soonest = Math.min(soonest, at.fromMs)
    }
    if (all.length === 0) return this.#stuck()
    return 'order' in this.#way ? byPriority(all, this.#way.patience) : this.#byName(all, this.#way)
  }

  /** The act of the panel that is named next; where that has none now, what begins first. */
  #byName(
    all: readonly Candidate[],
    { sequence }: { readonly sequence: readonly string[] },
  ): Candidate {
    const wait = all.find(isAlone)
    if (wait) return wait
    while (this.#named < sequence.length) {
      const id = sequence[this.#named]
      this.#named += 1
      const named = all.find(({ one }) => one.id === id)
      if (named) return heatInTime(named, all)
    }
    return byPriority(all, 0)
  }

  /** When an act could be begun as things stand. @returns null where it cannot yet, or not at all */
  #estimate(one: Simulated, act: Act): Estimate | null {
    const found = estimate(this.#ask(), this.#resources, this.#places, this.#panels, one, act)
    if (found === 'later') return null
    if ('cannot' in found) {
      this.#giveUp(one, found.cannot)
      return null
    }
    if (!('mustAbrade' in found)) return found
    if (act.kind !== 'coat') return null
    const from = { fromMs: one.freeAt, wait: 'window' as const }
    one.next = abradeNext(this.#ask(), one.panel, act.step, from, act)
    if (one.next.kind === 'cannot') this.#giveUp(one, one.next.why)
    if (one.next.kind !== 'abrade') return null
    return this.#estimate(one, one.next)
  }

  /** Nothing can be begun any more, and some are not through: what they wait for does not come. */
  #stuck(): null {
    for (const one of this.#panels)
      if (one.next.kind !== 'done' && one.next.kind !== 'cannot')
        this.#giveUp(one, { code: 'tooFar', days: 21 })
    return null
  }

  #commit({ one, act, at }: Candidate): void {
    if (act.kind === 'coat') this.#coat(one, act, at)
    else if (act.kind !== 'cure') this.#hand(one, act, at)
    else if (act.mode === 'air') this.#cure(one, act, at)
    else this.#heat(one, at)
  }

  #hand(one: Simulated, { kind, step, stage, work }: HandAct, at: Estimate): void {
    if (at.person) at.person.freeAt = at.toMs
    this.#resources.put(this.#resources.hands, zoneOf(one.panel), at)
    this.#acts.push({ ...plainOf(one, step, stage), kind, work, ...timesOf(at) })
    this.#after(one, at, (panel) =>
      kind === 'abrade' ? afterAbrading(panel, at.toMs) : afterHand(panel, step, at.toMs),
    )
  }

  #coat(one: Simulated, act: CoatAct, at: Estimate): void {
    const { sheet, step, stage, opens } = act
    this.#noteFirst(one, at)
    this.#acts.push(plannedCoat(one, act, at))
    if (at.person) at.person.freeAt = at.toMs
    const zone = zoneOf(one.panel)
    if (at.gun) {
      const cleanedAt = at.fromMs - at.setUpMs
      const vapor = { fromMs: cleanedAt, toMs: cleanedAt }
      if (at.isGunChanged) this.#resources.put(this.#resources.coats, at.gun.zone ?? zone, vapor)
      const use = { fromMs: cleanedAt, toMs: at.toMs }
      for (const held of new Set([...at.gun.zones, zone]))
        this.#resources.put(this.#resources.uses, held, use)
      useGun(at.gun, { ...at, sheet }, zone)
    }
    if (at.cup?.isFresh) this.#resources.cups.set(at.cup.key, at.cup)
    this.#resources.put(this.#resources.coats, zone, at)
    this.#places.enter(one.panel)
    const coat = { step, fromMs: at.fromMs, toMs: at.toMs, sheet, stage, opens }
    this.#after(one, at, (panel) => afterCoat(panel, coat))
  }

  /** One heat for all that were waited for; what else stands there gets hot, and its windows shut sooner. */
  #heat(one: Simulated, at: Estimate): void {
    for (const other of at.together ?? [one])
      if (other.next.kind === 'cure') this.#cure(other, other.next, at)
    const zone = zoneOf(one.panel)
    this.#state = readAfterHeat(this.#state, zone, at.toMs, this.#asking.now)
    for (const other of this.#panels)
      if (isByPerson(other.next) && zoneOf(other.panel) === zone) this.#renew(other)
  }

  /** What was asked of the same panel in another plan of the same shop is not asked again. */
  #next({ panel, freeAt }: Simulated): Next {
    if (this.#state !== this.#asking.state) return nextOf(this.#ask(), panel, freeAt)
    return remembered(this.#asking.next, panel, String(freeAt), () =>
      nextOf(this.#asking, panel, freeAt),
    )
  }

  #after(
    one: Simulated,
    { fromMs, toMs }: Estimate,
    change: (panel: PanelContext) => PanelContext,
  ): void {
    one.freeAt = toMs
    const by = `${one.next.kind} ${fromMs} ${toMs}`
    this.#keep(
      one,
      remembered(this.#asking.after, one.panel, by, () => change(one.panel)),
    )
    this.#renew(one)
  }

  #cure(one: Simulated, act: CureAct, at: Estimate): void {
    const { step, mode, setC, figures } = act
    this.#acts.push({ ...plainOf(one, step, 'cure'), kind: 'cure', mode, ...timesOf(at) })
    if (mode !== 'air') this.#resources.heat(zoneOf(one.panel), at)
    const cure = { step, mode, setC, figures, fromMs: at.fromMs, toMs: at.toMs }
    this.#after(one, at, (panel) => afterCure(panel, cure))
  }

  /** Of the coat that is sprayed first it is kept what else could have gone on by then. */
  #noteFirst(one: Simulated, at: Estimate): void {
    if (at.fromMs >= this.#firstMs) return
    this.#firstMs = at.fromMs
    this.#instead = this.#panels.flatMap(({ id, next }) =>
      id !== one.id && next.kind === 'coat' && next.fromMs <= at.fromMs ? [id] : [],
    )
  }
}
