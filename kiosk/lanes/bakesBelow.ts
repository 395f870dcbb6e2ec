import type { Settings } from '../../machines/shop/settingsSchema.ts'
import type { ToldRefusal } from '../commands/refusalText.ts'
import { heatText } from '../units/heat.ts'
import type { Words } from '../words/en.ts'
import type { PassAct } from './pass.ts'

/** The same bake at what the vehicles in the zone take, where it was refused for being hotter. */
export function bakesBelow(
  acts: readonly PassAct[],
  refusal: Pick<ToldRefusal, 'problems'>,
  words: Words,
  units: Settings['units'],
): readonly PassAct[] {
  const limits = refusal.problems.flatMap((p) => (p.code === 'vehicleLimit' ? p.params.limit : []))
  const bake = acts.find(({ key }) => key === 'bake')
  if (!bake || limits.length === 0) return []
  const setC = Math.min(...limits)
  const datas = bake.datas.map((data) => ({ ...data, setC }))
  return [{ ...bake, key: 'bake-limit', label: words.act.bakeAt(heatText(setC, units)), datas }]
}
