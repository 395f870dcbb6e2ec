import { SeededDice } from './drill.ts'
import { BASE, CLEAR } from './sheets.ts'
import { Shop } from './shop.ts'

/**
 * A simulated shop whose work differs from its sheets by factors that only the simulation knows. Its jobs
 * are played through the real rules, so that what is learned is learned from real entries.
 */

export type Truth = {
  readonly spray: { readonly base: number; readonly clear: number }
  readonly volume: { readonly base: number; readonly clear: number }
  readonly matte: number
  readonly degrease: number
}

/** Goes matte in 12 min before its own next coat, in 18 before the clear, at 20 °C and 50 % RH. */
export const MATTE_BASE = {
  ...BASE,
  medium: 'waterborne',
  sheet: 'base-water',
  name: 'Waterborne base, ready to spray',
  flashBy: 'appearance',
  matteOnly: true,
  floorMin: 1,
  flashBetween: [{ atC: 20, minutes: 12 }],
  flashBeforeNext: [{ atC: 20, minutes: 18 }],
} as const

const AREAS = [0.5, 0.65, 1.1, 1.6, 2] as const
/** How far single coats lie from their shop's factor: standard deviations. Common practice, no source. */
const NOISE = { spray: 0.15, volume: 0.12, matte: 0.1, hand: 0.25 } as const
const GUNS = { base: 'gun-1', clear: 'gun-2' } as const
/** The share that reaches the panel: HVLP as South Coast AQMD takes it. */
const TRANSFER = 0.65

/** A sum of twelve dice is as good as normal. */
function normal(dice: SeededDice): number {
  let sum = -6
  for (let i = 0; i < 12; i += 1) sum += dice.next()
  return sum
}

const about = (dice: SeededDice, factor: number, sigma: number): number =>
  factor * Math.exp(sigma * normal(dice))

/** Plays jobs of two panels each. @returns the shop, with all its entries */
export function learningShop(truth: Truth, jobs: number, seed: number): Shop {
  const dice = new SeededDice(seed)
  const shop = new Shop()
  for (const sheet of [MATTE_BASE, CLEAR]) shop.do('SaveSheet', { sheet })
  let min = 0
  const go = (minutes: number) => {
    min += minutes
    shop.at(min)
  }
  const route = [
    { stage: 'prep', work: 'mask' },
    { stage: 'prep', work: 'degrease' },
    { stage: 'base', sheet: MATTE_BASE.sheet },
    { stage: 'clear', sheet: CLEAR.sheet },
  ]
  for (let job = 0; job < jobs; job += 1) {
    const id = `J${letters(job)}`
    shop.do('ReadClimate', { zone: 'booth', airC: 20, rh: 0.5 })
    shop.do('OpenJob', { job: id, title: 'Delivery van' })
    const panels = [0, 1].map((n) => ({
      id: `P${letters(2 * job + n)}`,
      areaM2: dice.of(AREAS) as number,
    }))
    for (const { id: panel, areaM2 } of panels) {
      const data = {
        job: id,
        panel,
        name: panel,
        operation: 'repair',
        areaM2,
        zone: 'booth',
        route,
      }
      shop.do('AddPanel', data)
      shop.do('DoPrepStep', { panel, step: 0 })
      go(about(dice, 5 * truth.degrease, NOISE.hand))
      shop.do('DoPrepStep', { panel, step: 1 })
      go(12)
    }
    const ids = panels.map((panel) => panel.id)
    const sprayedMin = panels.reduce((sum, { areaM2 }) => sum + Math.max(1, 2 * areaM2), 0)
    const area = panels.reduce((sum, { areaM2 }) => sum + areaM2, 0)
    for (const stage of ['base', 'clear'] as const) {
      const sheet = stage === 'base' ? MATTE_BASE : CLEAR
      const cup = `C${letters(2 * job + (stage === 'base' ? 0 : 1))}`
      const activator = stage === 'clear' ? { activator: 'standard' } : {}
      shop.do('MixCup', { cup, sheet: sheet.sheet, totalMl: 5000, zone: 'booth', ...activator })
      for (let coat = 0; coat < 2; coat += 1) {
        shop.do('StartCoat', { panels: ids, cup, gun: GUNS[stage] })
        go(about(dice, sprayedMin * truth.spray[stage], NOISE.spray))
        const coatMl = (area * sheet.dryUmPerCoat) / (sheet.solids * TRANSFER)
        const usedMl = about(dice, coatMl * truth.volume[stage], NOISE.volume)
        shop.do('FinishCoat', { panels: ids, usedMl: Math.round(usedMl * 10) / 10, ordered: true })
        if (stage === 'clear') go(12)
        else look(coat === 0 ? 12 : 18)
      }
      shop.do('EmptyCup', { cup, how: 'used' })
      shop.do('CleanGun', { gun: GUNS[stage] })
    }
    shop.do('CloseJob', { job: id, override: { reason: 'simulated' } })
    go(30)

    /** Looks now and then, first at some share of the forecast, until both panels are matte. */
    function look(forecastMin: number): void {
      const ends = new Map(
        shop.entries
          .filter(({ type }) => type === 'CoatFinished')
          .flatMap(({ panel, at }) => (panel && ids.includes(panel) ? [[panel, at] as const] : [])),
      )
      const matteAt = new Map(
        ids.map((panel) => [
          panel,
          (ends.get(panel) ?? 0) + 60_000 * about(dice, forecastMin * truth.matte, NOISE.matte),
        ]),
      )
      const open = new Set(ids)
      go(forecastMin * (0.5 + 0.5 * dice.next()))
      for (; open.size > 0; go(1.5 + 2 * dice.next()))
        for (const panel of open) {
          const isMatte = shop.now >= (matteAt.get(panel) ?? 0)
          shop.do('InspectCoat', { panel, result: isMatte ? 'matt' : 'notYet' })
          if (isMatte) open.delete(panel)
        }
    }
  }
  return shop
}

const ALPHABET = '23456789ABCDEFGHJKMNPQRSTVWXYZ'

/** Seven signs of the alphabet of ids, another for each number. */
export function letters(n: number): string {
  let rest = n
  let text = ''
  for (let i = 0; i < 7; i += 1) {
    text = `${ALPHABET[rest % ALPHABET.length]}${text}`
    rest = Math.floor(rest / ALPHABET.length)
  }
  return text
}
