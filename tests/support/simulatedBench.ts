import { dewPointC } from '../../machines/clock/moistAir.ts'
import { lastCoat } from '../../machines/panel/context.ts'
import { heatFromAt } from '../../machines/panel/cureClock.ts'
import { panelOf } from './given.ts'
import { MINUTE, Shop, START_MS } from './shop.ts'
import type { Layer, Plan } from './simulatedPlan.ts'

/** The shop of a simulated job: its clock, its air and its cures. */

export const [JOB, PANEL, BESIDE] = ['SJJJ2222', 'SPPP2222', 'SQQQ2222']
export const WHY = { reason: 'as the plan of the simulation says' }

/** Colder than a sheet's one figure twice as long for 10 °C, warmer no shorter than the sheet. */
const longerBy = (airC: number): number => Math.max(1, 2 ** ((20 - airC) / 10))

export class SimulatedBench {
  readonly shop = new Shop()
  readonly job = JOB
  readonly panel = PANEL
  protected min = 0
  protected readonly plan: Plan

  constructor(plan: Plan) {
    this.plan = plan
  }

  get entries() {
    return this.shop.entries
  }

  protected do(type: string, data: object): void {
    this.shop.at(this.min).do(type, data)
  }

  protected to(ms: number): void {
    this.min = Math.max(this.min, (ms - START_MS) / MINUTE)
  }

  protected get panels(): readonly string[] {
    return this.plan.neighbor === 'none' ? [PANEL] : [PANEL, BESIDE]
  }

  /** The air as the layer has it, read now. */
  protected air(layer: Layer): void {
    const { airC, rh, marginC } = layer
    const surfaceC = marginC === null ? airC : dewPointC(airC, rh) + marginC
    const rounded = (value: number) => Math.round(value * 100) / 100
    for (const zone of ['booth', 'bench'])
      this.do('ReadClimate', { zone, airC: rounded(airC), rh: Math.round(rh * 1000) / 1000 })
    this.do('ReadClimate', {
      ...{ zone: 'booth', airC: rounded(airC), rh: Math.round(rh * 1000) / 1000 },
      surfaceC: rounded(surfaceC),
    })
  }

  protected airCure(step: number): void {
    const panels = this.panels
    this.air(this.plan.layers.primer)
    this.do('StartCure', { panels, mode: 'air', override: WHY })
    const from = this.min
    const need = 180 * longerBy(this.plan.layers.primer.airC)
    const until = from + need * this.plan.undercoat
    for (; this.min + 25 < until; ) {
      this.min += 25
      this.air(this.plan.layers.primer)
    }
    this.min = until
    this.do('EndCure', { panels })
    this.leave(step)
  }

  /** A cure that ended early leaves its step open: it is skipped. */
  protected leave(step: number): void {
    for (const panel of this.panels)
      if (panelOf(this.shop, panel).status[step] === 'open')
        this.do('SkipStep', { panel, step, reason: 'taken as cured' })
  }

  protected bake(step: number): void {
    const panels = this.panels
    const { standing, bake, bakeC } = this.plan
    const panel = panelOf(this.shop, PANEL)
    const last = lastCoat(panel)?.finishedAt ?? 0
    const heatAt = heatFromAt(this.shop.state, panel, 'bake') ?? last
    this.to(last + standing * (heatAt - last))
    this.do('StartCure', { panels, mode: 'bake', override: WHY })
    const until = this.min + 30 * bake
    const read = () => {
      for (const id of panels) this.do('ReadPart', { panel: id, partC: bakeC })
    }
    read()
    for (; this.min + 8 < until; ) {
      this.min += 8
      read()
    }
    this.min = until
    this.do('EndCure', { panels })
    this.leave(step)
  }

  protected handledEarly(step: number): void {
    const panels = this.panels
    const last = lastCoat(panelOf(this.shop, PANEL))?.finishedAt ?? 0
    const need = 300 * longerBy(this.plan.layers.clear.airC)
    const until = last + need * (this.plan.handled ?? 1) * MINUTE
    this.do('StartCure', { panels, mode: 'air', override: WHY })
    for (; this.shop.now + 25 * MINUTE < until; ) {
      this.min += 25
      this.air(this.plan.layers.clear)
    }
    this.to(until)
    this.do('MovePanel', { panel: PANEL, zone: 'bench', override: WHY })
    for (let n = 0; n < 45; n += 1) {
      this.min += 25
      this.air(this.plan.layers.clear)
    }
    this.do('EndCure', { panels })
    this.leave(step)
  }
}
