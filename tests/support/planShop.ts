import type { SeededDice } from './drill.ts'
import { letters, MATTE_BASE } from './learningShop.ts'
import { BASE, CLEAR, SEALER } from './sheets.ts'
import { Shop } from './shop.ts'

/** Random shops with work to plan. Sheets are invented; routes are the usual ones. */

export const PRIMER = {
  ...SEALER,
  sheet: 'primer-2k',
  name: '2K primer, 4:1',
  stage: 'primer',
  coats: { least: 1, planned: 2, most: 3 },
  ready: { sand: [{ atC: 20, minutes: 120 }] },
  recoatWithin: 'mustSand',
} as const

/** The night is longer than its window. */
export const SHORT_BASE = {
  ...BASE,
  sheet: 'base-short',
  name: 'Solvent base with a short window',
  recoatWithin: [{ atC: 20, minutes: 240 }],
} as const

export type PlannedShop = {
  readonly shop: Shop
  readonly air: { readonly airC: number; readonly rh: number } | null
  readonly panels: readonly string[]
  readonly hasHours: boolean
}

export function planShop(dice: SeededDice, most: { jobs: number; panels: number }): PlannedShop {
  const shop = new Shop()
  for (const sheet of [BASE, SHORT_BASE, MATTE_BASE, CLEAR, SEALER, PRIMER])
    shop.do('SaveSheet', { sheet })
  const isRead = dice.chance(80)
  const air = isRead ? { airC: 16 + dice.below(10), rh: 0.3 + dice.below(40) / 100 } : null
  const zones = dice.chance(40) ? ['booth', 'bay'] : ['booth']
  for (const zone of zones) {
    const fits = dice.chance(30) ? { fitsJobs: dice.between(1, 2) } : {}
    const opens = zones.length > 1 && dice.chance(50) ? { opensTo: ['booth'] } : {}
    shop.do('SaveZone', { zone, ...fits, ...(zone === 'bay' ? opens : {}) })
  }
  const hasHours = dice.chance(60)
  if (hasHours)
    shop.do('ChangeSettings', { hours: { opensAt: '07:30', closesAt: '16:30' }, timeZone: 'UTC' })
  for (let gun = 0; gun < dice.below(4); gun += 1) shop.do('SaveGun', { gun: `gun-${gun}` })
  const people = dice.chance(50) ? { lead: 1, painter: dice.below(2), prepper: dice.below(2) } : {}
  if (dice.chance(50)) bakedBefore(shop)
  for (const [role, many] of Object.entries(people))
    for (let n = 0; n < many; n += 1)
      shop.do('AddPerson', { person: n === 0 ? role : `${role}-${n}`, name: `${role} ${n}`, role })
  const panels: string[] = []
  const jobs = dice.between(1, most.jobs)
  for (let n = 0; n < jobs; n += 1) {
    const job = `J${letters(n)}`
    const colours = [{ key: 'A', code: 'W1', kind: 'metallic' }]
    shop.do('OpenJob', { job, title: `Delivery van ${n}`, colours })
    for (let p = 0; p < dice.between(1, most.panels); p += 1) {
      const panel = `P${letters(panels.length)}`
      const data = {
        job,
        panel,
        name: `Panel ${p}`,
        operation: 'repair',
        areaM2: dice.between(1, 30) / 10,
      }
      shop.do('AddPanel', { ...data, zone: dice.of(zones), route: routeOf(dice) })
      panels.push(panel)
    }
  }
  if (air) for (const zone of zones) shop.do('ReadClimate', { zone, ...air })
  return { shop, air, panels, hasHours }
}

/** A shop that has an oven: something was baked in it, in another zone. */
function bakedBefore(shop: Shop): void {
  const job = `K${letters(0)}`
  const panel = `Q${letters(0)}`
  shop.do('OpenJob', { job, title: 'A test panel' })
  const route = [{ stage: 'cure', sheet: CLEAR.sheet }]
  shop.do('AddPanel', { job, panel, name: 'Test panel', operation: 'repair', zone: 'oven', route })
  shop.do('StartCure', { panels: [panel], mode: 'bake', setC: 65 })
  shop.do('ReadPart', { panel })
  shop.now += 31 * 60_000
  shop.do('EndCure', { panels: [panel] })
  shop.do('PassPanel', { panel })
}

function routeOf(dice: SeededDice) {
  const base = dice.of<{ readonly sheet: string }>([BASE, SHORT_BASE, MATTE_BASE])
  return [
    ...(dice.chance(30)
      ? [{ stage: 'primer', sheet: PRIMER.sheet }, { stage: 'sand' }]
      : [{ stage: 'prep', work: 'abrade' }]),
    ...(dice.chance(40) ? [{ stage: 'prep', work: 'degrease' }] : []),
    ...(dice.chance(30) ? [{ stage: 'sealer', sheet: SEALER.sheet }] : []),
    { stage: 'base', sheet: base.sheet, colour: 'A' },
    { stage: 'clear', sheet: CLEAR.sheet },
    { stage: 'cure', sheet: CLEAR.sheet },
    ...(dice.chance(30) ? [{ stage: 'polish' }] : []),
  ]
}
