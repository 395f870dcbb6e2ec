import type { Forecast, PlannedAct } from '../../machines/plan/forecastTypes.ts'
import { letters } from './learningShop.ts'
import type { Shop } from './shop.ts'

/**
 * Plays a plan as commands through the shop's own rules, each at its planned moment and live, so that
 * whatever the rules do not allow is refused.
 */

type Happening = { readonly at: number; readonly rank: number; readonly does: () => void }

export type Played = {
  /** What was refused, with its code. */
  readonly refused: readonly string[]
}

/** In what is read every so often: less than a reading takes to go stale. */
const READ_EVERY_MS = 20 * 60_000
const HEAT_UP_MS = 15 * 60_000

let cups = 0

/**
 * @param air what is read in each zone; null for a shop that reads nothing
 * @param untilMs what is planned from then on is not played
 */
export function playPlan(
  shop: Shop,
  { acts }: Pick<Forecast, 'acts'>,
  air: { readonly airC: number; readonly rh: number } | null,
  untilMs = Number.POSITIVE_INFINITY,
): Played {
  const refused: string[] = []
  const now = shop.now
  const hasPeople = Object.keys(shop.state.things.person).length > 0
  const send = (type: string, data: unknown) => {
    const answer = shop.send(type, data, hasPeople ? { by: 'lead' } : {})
    if ('drafts' in answer) {
      const marks = answer.drafts.flatMap(({ outside = [], override }) => [
        ...outside.map(({ code }) => code),
        ...(override ? ['override'] : []),
      ])
      // Water that flashes beside heat is marked and never refused; a solvent would have been.
      for (const code of marks) if (code !== 'wetInZone') refused.push(`${type} ${code}`)
      return
    }
    refused.push(`${type} ${JSON.stringify('refusal' in answer ? answer.refusal : answer)}`)
  }
  const all: Happening[] = []
  const on = (at: number, rank: number, does: () => void) => all.push({ at, rank, does })
  const held = new Map<string, string>()
  const begun = acts.filter((act) => act.fromMs < untilMs)
  for (const act of begun) plan(act)
  readAll()
  all.sort((a, b) => a.at - b.at || a.rank - b.rank)
  for (const { at, does } of all) {
    shop.now = Math.max(shop.now, at)
    does()
  }
  return { refused }

  function readAll(): void {
    const zones = [...new Set(begun.map(({ zone }) => zone))]
    const last = Math.max(now, ...begun.map(({ toMs }) => toMs))
    const wasHeated = Object.values(shop.state.things.panel).some(({ context }) => context.heats)
    // Who reads no air reads it once after a heat: the zone counts as hot until then.
    if (!air && wasHeated)
      for (const zone of zones) on(now, 0, () => send('ReadClimate', { zone, airC: 20, rh: 0.5 }))
    for (const zone of zones)
      for (let at = now; at <= last; at += READ_EVERY_MS) {
        const isHot = begun.some(
          (act) => act.zone === zone && act.mode === 'bake' && act.fromMs <= at && at <= act.toMs,
        )
        if (air && !isHot) on(at, 0, () => send('ReadClimate', { zone, ...air }))
      }
    // Once it is cool again somebody reads the air.
    for (const act of begun)
      if (act.mode === 'bake')
        on(act.toMs + 1, 0, () =>
          send('ReadClimate', { zone: act.zone, ...(air ?? { airC: 20, rh: 0.5 }) }),
        )
  }

  /** The cup that stands there already. */
  function lastCup(job: string, sheet: string | undefined, colour: string | undefined): string {
    const own = Object.entries(shop.state.things.cup).filter(
      ([, { context: cup }]) =>
        cup.job === job && cup.sheet === sheet && cup.colour === (colour ?? null),
    )
    return own.toSorted(([, a], [, b]) => b.context.mixedAt - a.context.mixedAt)[0]?.[0] ?? ''
  }

  /** What goes by its looks is looked at first. */
  function look(panel: string): void {
    const last = shop.state.things.panel[panel]?.context
    const opens = last?.coats.at(-1)?.opens
    if (opens?.flashBy === 'appearance' && last?.mattAt === null && last.curedAt === null)
      send('InspectCoat', { panel, result: 'matt' })
  }

  function plan(act: PlannedAct): void {
    const { panel, step, fromMs, toMs, sheet, gun } = act
    if (act.kind === 'hand')
      return void on(toMs, 1, () =>
        act.stage === 'polish'
          ? send('PolishPanel', { panel })
          : send('DoPrepStep', { panel, step }),
      )
    if (act.kind === 'abrade') {
      on(fromMs, 4, () => look(panel))
      return void on(toMs, 1, () => send('AbradePanel', { panel }))
    }
    if (act.kind === 'cure') {
      const { mode } = act
      // One heat is one press, for all that stand in it.
      const together = begun.filter(
        (one) =>
          one.kind === 'cure' &&
          one.mode === mode &&
          one.zone === act.zone &&
          one.fromMs === fromMs,
      )
      const panels = mode === 'air' ? [panel] : together.map((one) => one.panel)
      if (!act.isRunning && panels[0] === panel) {
        const set = mode === 'bake' ? { setC: 65 } : {}
        on(fromMs, 3, () => send('StartCure', { panels, mode, ...set }))
      }
      if (mode === 'bake') on(fromMs + HEAT_UP_MS, 4, () => send('ReadPart', { panel }))
      return void on(toMs, 1, () => send('EndCure', { panels: [panel] }))
    }
    const colour = shop.state.things.panel[panel]?.context.route[step]?.colour
    const key = `${act.job} ${sheet} ${colour ?? ''}`
    const mixMs = fromMs - 5 * 60_000
    const activator = sheet === 'clear-2k' ? { activator: 'standard' } : {}
    if (act.isFreshCup) {
      const mix = () => {
        cups += 1
        held.set(key, `C${letters(cups)}`)
        const own = { cup: held.get(key), sheet, totalMl: 20_000, zone: act.zone, ...activator }
        send('MixCup', { ...own, job: act.job, ...(colour === undefined ? {} : { colour }) })
      }
      on(mixMs, 2, mix)
    }
    if (gun && act.isGunChanged) on(act.setUpFromMs ?? fromMs, 2, () => send('CleanGun', { gun }))
    if (!act.isRunning)
      on(fromMs, 4, () => {
        look(panel)
        if (!held.has(key)) held.set(key, lastCup(act.job, sheet, colour))
        send('StartCoat', { panels: [panel], cup: held.get(key), step, ...(gun ? { gun } : {}) })
      })
    on(toMs, 1, () => send('FinishCoat', { panels: [panel] }))
  }
}
