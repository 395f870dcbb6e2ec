import { earliest } from '../cup/ends.ts'
import type { CupContext } from '../cup/machine.ts'
import type { GunLoad } from './machine.ts'

/** What a cup puts into a gun. The printed word goes with it: it is the same material. */
export function loadOf(id: string, cup: CupContext | null): GunLoad {
  return {
    cup: id,
    sheet: cup?.sheet ?? null,
    name: cup?.name ?? 'material of an unknown cup',
    colour: cup?.colour ?? null,
    clocks: cup?.clocks ?? [],
    untilMs: cup ? earliest([cup.untilMs, ...cup.prints.map((p) => p.untilMs)]) : null,
    warns: true,
    ...(cup?.colour ? { paint: cup.paint ?? { job: cup.job } } : {}),
  }
}
