import { layoutCupLabel } from '../../labels/layout.ts'
import { missedBy } from '../support/damageSamples.ts'
import { codeOf, DAMAGES, type Damage, damaged, NOMINAL } from '../support/labelDamage.ts'
import { randomOf } from '../support/labelImage.ts'
import { CLEAR, MADRID, paper } from '../support/labelSamples.ts'
import { part } from './table.ts'

/** How much damage the code of a cup's label bears: at what is promised, and beyond it. */

const BEYOND = [1, 1.5, 2, 3] as const
const SCANS = 30

const rowOf = (damage: Damage, times: number): string =>
  `cup label read: ${damage} ${Math.round(100 * beyond(damage, times)) / 100}`
/** The bend is tighter and the contrast lower by that factor. */
const beyond = (damage: Damage, times: number): number =>
  damage === 'bend' || damage === 'contrast' ? NOMINAL[damage] / times : NOMINAL[damage] * times
const ROWS = DAMAGES.flatMap((damage) => BEYOND.map((times) => rowOf(damage, times)))

export const damage = part(
  'damage',
  Object.fromEntries(ROWS.map((what) => [what, null])),
  async (put) => {
    for (const damage of DAMAGES)
      for (const times of BEYOND) put(rowOf(damage, times), await curve(damage, times))
  },
)

async function curve(damage: Damage, times: number) {
  const code = codeOf(layoutCupLabel(CLEAR, paper(203), MADRID))
  const sample = { name: '', code, damages: DAMAGES, readers: ['zxing', 'zbar'] as const }
  const missed = { zxing: 0, zbar: 0 }
  for (let n = 0; n < SCANS; n += 1) {
    const pictures = damaged(code, damage, beyond(damage, times), randomOf(n + 1))
    for (const reader of await missedBy(sample, pictures)) missed[reader] += 1
  }
  const share = (count: number) => Math.round(100 * (1 - count / SCANS))
  return {
    ...{ ours: share(missed.zxing), unit: '% by zxing' },
    limit: { what: 'zbar', value: share(missed.zbar), unit: '%' },
  }
}
