import { cupEndsAt } from '../../machines/cup/ends.ts'
import { type CoatKind, dueStep, lastCoat } from '../../machines/panel/context.ts'
import { gateOf, LATEST } from '../../machines/panel/gate.ts'
import { shutsAt } from '../../machines/panel/gateTimes.ts'
import { contextOf } from '../../machines/state.ts'
import { cupOf, panelOf } from './given.ts'
import { MINUTE } from './shop.ts'
import { BESIDE, JOB, PANEL, SimulatedBench, WHY } from './simulatedBench.ts'
import type { Layer, Plan } from './simulatedPlan.ts'
import { SIM_SHEETS, type SimStage } from './simulatedSheets.ts'

/**
 * A whole job, pressed command by command through the real rules: what a plan says goes wrong does, the
 * rest goes as it should. Numbers are drawn from a seed.
 */

const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ'
const DAY_MIN = 1_440
const AREA_M2 = 1.2
/** Filters are changed every sixty days. */
const FILTERS_MS = 60 * DAY_MIN * MINUTE

/** One job in its making. */
export class SimulatedJob extends SimulatedBench {
  #cups = 0

  constructor(plan: Plan) {
    super(plan)
    this.#open()
    this.#work()
  }

  #route(): object[] {
    const { kind, clearFace } = this.plan
    const by = (work: string) => ({ stage: 'prep', work })
    const spray = (stage: string, sheet: SimStage, more = {}) => ({
      ...{ stage, sheet: SIM_SHEETS[sheet].sheet, ...more },
    })
    const ending = [
      by('tack'),
      ...(kind === 'blend' ? [spray('blender', 'blender')] : []),
      spray('base', 'base', { colour: 'body' }),
      spray('clear', 'clear', { face: clearFace }),
      { stage: 'cure', sheet: SIM_SHEETS.clear.sheet },
    ]
    if (kind === 'plastic')
      return [by('abrade'), by('degrease'), spray('adhesion-promoter', 'promoter'), ...ending]
    if (kind === 'blend') return [by('abrade'), by('degrease'), ...ending]
    return [
      by('abrade'),
      by('degrease'),
      spray('primer', 'primer'),
      { stage: 'cure', sheet: SIM_SHEETS.primer.sheet },
      by('guideCoat'),
      { stage: 'sand' },
      by('isolate'),
      by('degrease'),
      ...ending,
    ]
  }

  #open(): void {
    const { shop } = this
    this.do('ChangeSettings', { timeZone: 'Europe/Madrid' })
    for (const sheet of Object.values(SIM_SHEETS)) this.do('SaveSheet', { sheet })
    for (const zone of ['booth', 'bench']) this.do('SaveZone', { zone, purgeMin: 0 })
    const doneMs = shop.now - this.plan.filterAge * FILTERS_MS
    const next = { doneMs, nextMs: doneMs + FILTERS_MS }
    this.do('ServiceFilter', { zone: 'booth', what: 'changed', ...next })
    this.do('OpenJob', {
      job: JOB,
      title: 'Delivery van, simulated',
      colours: [{ key: 'body', code: 'van silver', kind: 'metallic' }],
    })
    const { kind } = this.plan
    const operation = kind === 'blend' ? 'blend' : 'repair'
    const substrate = kind === 'plastic' ? 'plastic' : 'steel'
    for (const panel of this.panels) {
      const more = { operation, substrate, areaM2: AREA_M2, zone: 'booth', route: this.#route() }
      shop.do('AddPanel', {
        job: JOB,
        panel,
        name: panel === PANEL ? 'Rear door' : 'Sill',
        ...more,
      })
    }
  }

  /** Goes on through the route until nothing is due. */
  #work(): void {
    for (let guard = 0; guard < 60; guard += 1) {
      const panel = panelOf(this.shop, PANEL)
      const step = dueStep(panel)
      const due = panel.route[step]
      if (!due) break
      if (due.stage === 'prep' || due.stage === 'sand') this.#hand(step, due.work ?? 'sand')
      else if (due.stage === 'cure') this.#cure(step)
      else this.#layer(step, stageName(due.stage))
    }
    this.#finish()
  }

  #hand(step: number, work: string): void {
    const { skip, layers, cleanMin, kind } = this.plan
    const isLast = step >= 5 || kind !== 'repair'
    const isHurried = this.plan.wetShare < 1 && work === 'tack'
    this.min += isHurried ? 0.2 : 6
    const named = work === 'sand' ? 'abrade' : work
    const isSkipped =
      (skip as readonly string[]).includes(named) &&
      (isLast || named === 'guideCoat' || named === 'isolate')
    const isPaper = named === 'abrade'
    const first = kind === 'repair' && step === 0 ? layers.primer.grit : layers.base.grit
    for (const panel of this.panels) {
      if (isSkipped && panel === PANEL) this.do('SkipStep', { panel, step, reason: 'forgotten' })
      else
        this.do('DoPrepStep', { panel, step, ...(isPaper ? { grit: first } : {}), override: WHY })
    }
    if (named === 'degrease' && isLast && this.plan.wetShare >= 1) this.min += cleanMin - 8
  }

  #mix(stage: SimStage, layer: Layer, zone: string): string {
    const sheet = SIM_SHEETS[stage]
    this.#cups += 1
    const cup = `SC${ALPHABET[this.#cups]}2222${ALPHABET[this.#cups]}`
    const each = 300 / sheet.components.reduce((sum, c) => sum + c.parts, 0)
    const off: Record<string, number> = { activator: layer.activator, reducer: layer.reducer }
    const pouredG = sheet.components.map(
      (c) => Math.round(100 * each * c.parts * (1 + (off[c.role] ?? 0))) / 100,
    )
    const fits = layer.airC > 25.5 ? 'slow' : layer.airC < 18.5 ? 'fast' : 'medium'
    const option = layer.option === 'fits' ? fits : layer.option
    this.do('MixCup', {
      ...{ cup, sheet: sheet.sheet, totalMl: 900, job: JOB, pouredG, zone },
      ...(stage === 'base' ? { colour: 'body' } : {}),
      ...('activators' in sheet ? { activator: option } : {}),
      ...('reducers' in sheet ? { reducer: option } : {}),
    })
    return cup
  }

  #layer(step: number, stage: SimStage): void {
    const plan = this.plan
    const layer = plan.layers[stage]
    const isLeft = (plan.skip as readonly string[]).includes(stage)
    if (isLeft) {
      this.do('SkipStep', { panel: PANEL, step, reason: 'forgotten' })
      return
    }
    this.air(layer)
    const cup = this.#cupFor(stage, layer, step)
    const other =
      stage === 'base' && plan.neighbor === 'otherMix' ? this.#mix(stage, layer, 'bench') : cup
    for (let nth = 0; nth < layer.coats; nth += 1) this.#coat(step, stage, layer, nth, cup, other)
    const panel = panelOf(this.shop, PANEL)
    if (panel.status[step] === 'open')
      for (const id of this.panels) this.do('ReachCover', { panel: id, override: WHY })
  }

  /** A cup that is as old at the layer's last coat as the plan says. */
  #cupFor(stage: SimStage, layer: Layer, step: number): string {
    if (layer.stored) {
      const cup = this.#mix(stage, layer, 'bench')
      this.min += DAY_MIN
      this.air(layer)
      if (layer.stored.length > 0) this.do('CheckCup', { cup, done: layer.stored })
      return cup
    }
    this.to(this.#goAt(step, stage, layer, 0) - 2 * MINUTE)
    const cup = this.#mix(stage, layer, 'booth')
    if (layer.cupAge > 0) {
      const { mixedAt } = cupOf(this.shop, cup)
      const endsAt = cupEndsAt(this.shop.state, cupOf(this.shop, cup)) ?? mixedAt
      // The last coat comes so much later than the first.
      const laterMs = (layer.coats - 1) * 14 * MINUTE
      this.to(mixedAt + layer.cupAge * (endsAt - mixedAt) - laterMs)
    }
    return cup
  }

  /** When the coat goes on: after so much of what the rules want, or of its window. */
  #goAt(step: number, stage: SimStage, layer: Layer, nth: number): number {
    const panel = panelOf(this.shop, PANEL)
    const kind = this.#kind(stage, layer, nth)
    const gate = gateOf(this.shop.state, panel, step, LATEST, kind)
    const now = this.shop.now
    const last = lastCoat(panel)
    if (!gate || !last || gate.flashEndsAt === null) return this.#afterCleaning(now)
    const ratio = last.step === step ? layer.between : layer.before
    const shut = shutsAt(gate)
    if (layer.window > 0 && shut !== null && last.step !== step)
      return last.finishedAt + layer.window * (shut - last.finishedAt)
    return Math.max(
      this.#afterCleaning(now),
      last.finishedAt + ratio * (gate.flashEndsAt - last.finishedAt),
    )
  }

  /** A cleaner that has to leave first. */
  #afterCleaning(now: number): number {
    const { degreasedAt, substrate } = panelOf(this.shop, PANEL)
    if (degreasedAt === null) return now
    const minutes = /plast/i.test(substrate ?? '') ? 10 : 5
    return Math.max(now, degreasedAt + minutes * this.plan.wetShare * MINUTE)
  }

  #kind(stage: SimStage, layer: Layer, nth: number): CoatKind {
    if (this.plan.kind === 'blend' && stage === 'base') return 'blend'
    return stage === 'base' && layer.isDropped && nth === layer.coats - 1 ? 'drop' : 'full'
  }

  #coat(
    step: number,
    stage: SimStage,
    layer: Layer,
    nth: number,
    cup: string,
    other: string,
  ): void {
    this.to(this.#goAt(step, stage, layer, nth))
    this.air(layer)
    const gunSet = {
      inletKpa: Math.round(200 * layer.pressure),
      turns: layer.turns,
      distanceCm: 16,
    }
    const kind = this.#kind(stage, layer, nth)
    const gun = `gun-${stage}-${other === cup ? 1 : 2}`
    const sheet = SIM_SHEETS[stage]
    const share = kind === 'full' ? 1 : 0.5
    const wanted = (sheet.dryUmPerCoat * share * AREA_M2) / (sheet.solids * 0.65)
    const cups =
      other === cup
        ? [[cup, this.panels]]
        : [
            [cup, [PANEL]],
            [other, [BESIDE]],
          ]
    for (const [from, panels] of cups as [string, string[]][]) {
      const own = from === cup ? `gun-${stage}` : gun
      this.do('LoadGun', { gun: own, cup: from, needleMm: layer.needleMm, override: WHY })
      this.do('StartCoat', { panels, cup: from, kind, gun: own, gunSet, step, override: WHY })
      this.min += 2.4 * panels.length
      const reachCm = kind === 'blend' ? this.plan.reach[nth] : undefined
      const usedMl = Math.round(10 * wanted * layer.film * panels.length) / 10
      this.do('FinishCoat', { panels, usedMl, ordered: true, ...(reachCm ? { reachCm } : {}) })
    }
  }

  #cure(step: number): void {
    const panel = panelOf(this.shop, PANEL)
    const isUnder = panel.route[step]?.sheet === SIM_SHEETS.primer.sheet
    if (isUnder) this.airCure(step)
    else if (this.plan.handled !== null) this.handledEarly(step)
    else this.bake(step)
  }

  #finish(): void {
    this.min += 90
    const { coats } = panelOf(this.shop, PANEL)
    const sheets = new Set(coats.map((coat) => coat.opens?.sheet))
    const most = Object.values(SIM_SHEETS)
      .filter(({ sheet }) => sheets.has(sheet))
      .reduce((sum, { maxFilmUm }) => sum + maxFilmUm, 0)
    this.do('ReadFilm', { panel: PANEL, um: Math.round(most * this.plan.gauge), method: 'gauge' })
    for (const panel of this.panels) this.do('PassPanel', { panel, override: WHY })
    if (contextOf(this.shop.state, 'job', JOB)) this.do('CloseJob', { job: JOB, override: WHY })
  }
}

const stageName = (stage: string): SimStage =>
  stage === 'adhesion-promoter' ? 'promoter' : (stage as SimStage)
